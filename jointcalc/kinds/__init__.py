"""One record for each kind, read by `jointcalc.registry`; a new kind keeps all its modules in a folder here."""
