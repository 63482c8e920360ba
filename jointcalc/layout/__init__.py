"""Marking out: what is drawn on the sheet before anything is cut, at true size.

`items` turns items and parts of a project into `Drawing`s (plain geometry in mm), `dxf` and `paper`
write them, `cutlist` counts what is needed and `nest` lays rectangles on stock sheets.  Nothing here
judges anything, and what is drawn comes from the models and from `section.forming`.
"""
