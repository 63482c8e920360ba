"""What the books say: one plain function per published formula, and what prints it."""
