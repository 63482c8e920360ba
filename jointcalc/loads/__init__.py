"""From what the builder knows to what each joint carries: cases, what gives loads, and how an item takes them.

`cases` says what a load case means, `take` how a load goes into the fields of each kind, `project` carries the loads of
one project from giver to giver and hangs them on the items that ask for them.
"""
