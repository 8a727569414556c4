package harbour.viewer;

import java.awt.BorderLayout;
import java.awt.Dimension;
import java.awt.Graphics;
import javax.swing.JComponent;
import javax.swing.JFrame;
import javax.swing.JLabel;
import javax.swing.SwingUtilities;

/** A window with one gauge. It has a main method of its own; neither the service nor anybody else starts it. */
public final class GaugeViewer {
    private GaugeViewer() {}

    public static void main(String[] args) {
        double level = args.length == 0 ? 0 : Double.parseDouble(args[0]);
        SwingUtilities.invokeLater(() -> {
            JFrame frame = new JFrame("Tide gauge");
            frame.setDefaultCloseOperation(JFrame.EXIT_ON_CLOSE);
            frame.add(new Dial(level), BorderLayout.CENTER);
            frame.add(new JLabel(level + " m"), BorderLayout.SOUTH);
            frame.pack();
            frame.setVisible(true);
        });
    }

    private static final class Dial extends JComponent {
        private final double level;

        Dial(double level) {
            this.level = level;
            setPreferredSize(new Dimension(60, 240));
        }

        @Override
        protected void paintComponent(Graphics graphics) {
            int height = (int) Math.round(level * 40);
            graphics.fillRect(10, getHeight() - height, 40, height);
        }
    }
}
