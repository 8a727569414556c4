package sluice;

/** A gate wired to this machine. */
public final class LocalGate implements Gate {
    private int opening;

    @Override
    public synchronized void set(int percent) {
        if (percent < 0 || percent > 100) {
            throw new IllegalArgumentException("opening of " + percent + " per cent");
        }
        opening = percent;
    }

    @Override
    public synchronized int opening() {
        return opening;
    }
}
