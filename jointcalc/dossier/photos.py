"""Photos beside the project: read, tried by the typesetter, and told when they cannot be attached."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Iterator

from jointcalc.dossier.common import Data
from jointcalc.dossier.words import breakable, short
from jointcalc.errors import InputError
from jointcalc.model.fields import Item
from jointcalc.model.project import Project

PICTURES = {b"\x89PNG": "png", b"\xff\xd8\xff": "jpg", b"GIF8": "gif", b"RIFF": "webp"}
"""First bytes of the picture files that can be attached -> the kind of file."""

LARGEST_PHOTO = 30_000_000


def photo_faults(project: Project, items: Iterable[Item]) -> list[InputError]:
    """What is wrong with the photos and files that these items and the records name; empty when all are there."""
    faults = []
    for item in items:
        if why := read_photo(project, item.photo)[2]:
            faults.append(InputError(f"'{short(item.photo, 80)}' {why}", field="photo", where=item.id))
    for one in project.evidence:
        why = read_photo(project, one.file)[2] if one.sort == "photo" else read_file(project, one.file)[1]
        if why:
            where = f"[[evidence]] {short(one.id or one.title, 60)}"
            faults.append(InputError(f"'{short(one.file, 80)}' {why}", field="file", where=where))
    return faults


def read_file(project: Project, name: str) -> tuple[bytes, str]:
    """(bytes, why it cannot be had) of a file beside the project."""
    if not name.strip():
        return b"", ""
    if project.path is None:
        return b"", "the project was not read from a file"
    folder = project.path.resolve().parent
    try:
        path = (folder / name).resolve()
        inside = path.is_relative_to(folder)
        data = path.read_bytes() if inside and path.is_file() and path.stat().st_size <= LARGEST_PHOTO else None
    except (OSError, ValueError):
        inside, data = True, None
    if not inside:
        return b"", "it lies outside the project's folder"
    return (b"", "there is no such file (of at most 30 MB) beside the project") if data is None else (data, "")


def read_photo(project: Project, name: str) -> tuple[bytes, str, str]:
    """(bytes, kind of picture, why it cannot be attached) of a photo beside the project."""
    data, why = read_file(project, name)
    if not data:
        return b"", "", why
    kind = next((word for head, word in PICTURES.items() if data.startswith(head)), "")
    if not kind or not readable(data, kind):
        return b"", "", "it cannot be read as a PNG, JPEG, GIF or WebP picture"
    return data, kind, ""


def readable(data: bytes, kind: str) -> bool:
    """Whether the typesetter can decode the picture, tried on a page of its own."""
    from jointcalc.dossier.typeset import run

    source = '#set page(width: 10cm, height: auto)\n#image("p.' + kind + '", width: 100%, alt: "p")'
    try:
        run({"main.typ": source.encode(), f"p.{kind}": data}, standards=[])
    except BaseException as error:
        if isinstance(error, KeyboardInterrupt | SystemExit | MemoryError):
            raise
        return False
    return True


def pictures_of(
    project: Project, item: Item, records: Iterable[Data], add: Callable[[bytes, str], str], inputs: list[list[str]]
) -> Iterator[Data]:
    """The item's own photo and those of its records: {file, alt, caption}, or {note} why one is not attached.

    `add` takes the bytes; each file goes into `inputs` with its checksum.
    """
    own = f"{item.id} {item.title}".strip()
    told = {one["photo"]: one["caption"] for one in records if one["photo"]}
    named = dict.fromkeys([item.photo] if item.photo.strip() else [])
    for name in [*named, *(name for name in told if name not in named)]:
        data, kind, why = read_photo(project, name)
        if not data:
            yield {"note": f"The photo '{breakable(short(name, 80), 30)}' is not attached: {why}."}
            continue
        inputs.append([f"photo {breakable(short(name, 80), 30)}", hashlib.sha256(data).hexdigest()])
        caption = told.get(name) or breakable(own)
        yield {"note": "", "file": add(data, kind), "caption": caption,
               "alt": short(f"Photo attached by the builder to {own}: {caption}", 300)}  # fmt: skip
