"""What is looked at and measured on the members of a frame."""

from __future__ import annotations

from collections.abc import Iterator
from math import dist

from jointcalc.kinds.frame.model import Frame
from jointcalc.show.checklist import Entry, look, sheets, size, within
from jointcalc.show.checklist_parts import dimensions


def checklist(item: Frame) -> Iterator[Entry]:
    """Sheets, profile and length of every member that is no brace of its own, the joints at its ends, the supports."""
    for member in item.members:
        own: list[Entry] = []
        if member.brace:
            own.append(look("brace", "Member", f"as the checklist of {member.brace} says"))
        else:
            assert member.start is not None
            assert member.end is not None
            length = dist(member.start, member.end)
            section = member.section(length)
            own += sheets(section.sheets, ("profile", "skin")[: len(section.sheets)])
            own += dimensions(section.family)
            own.append(size("length", "Length between the points it joins", length))
        if member.joints:
            own.append(look("joints", "Joints at its ends", f"made and checked: {', '.join(member.joints)}"))
        yield from within(member.id, member.id, own)
    yield look("supports", "Places where the frame is held", "where the plan shows them", places=len(item.supports))
