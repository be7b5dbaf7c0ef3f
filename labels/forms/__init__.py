"""Forms of the label pages: they read what was typed, and decide nothing."""
