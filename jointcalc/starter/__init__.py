"""Project files that `jointcalc new` writes: a commented starter and the demo."""
