package sluice;

/** What a sluice gate can be told. The throws clause is all that is left of an older remote control. */
public interface Gate {
    /** Sets the opening, from 0 (shut) to 100 (open). */
    void set(int percent) throws java.rmi.RemoteException;

    int opening();
}
