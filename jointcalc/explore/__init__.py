"""Sweeps and inverse design: the same checks asked the other way round, never a second copy of them."""
