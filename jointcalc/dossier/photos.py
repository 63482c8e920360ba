"""Photos beside the project: read, tried by the typesetter, and told when they cannot be attached."""

from __future__ import annotations

import hashlib
from collections import OrderedDict
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from jointcalc.dossier.common import Data
from jointcalc.dossier.words import breakable, short
from jointcalc.errors import InputError
from jointcalc.model.fields import Item
from jointcalc.model.project import Project

PICTURES = {b"\x89PNG": "png", b"\xff\xd8\xff": "jpg", b"GIF8": "gif", b"RIFF": "webp"}
"""First bytes of the picture files that can be attached -> the kind of file."""

LARGEST_PHOTO = 30_000_000
"""Bytes of a file that are read at most."""
LONG_EDGE = 1600
"""Pixels of the longer side of a picture that is attached: over 250 dots per inch at the size it is printed."""
SMALL = 400_000
"""Bytes up to which a picture of no more pixels than that is attached as it is."""
MOST_PIXELS = 120_000_000
"""Pixels that are decoded at most."""


def photo_faults(project: Project, items: Iterable[Item]) -> list[InputError]:
    """What is wrong with the photos and files that these items and the records name; empty when all are there."""
    faults = []
    for item in items:
        if why := read_photo(project, item.photo).why:
            faults.append(InputError(f"'{short(item.photo, 80)}': {why}", field="photo", where=item.id))
    for one in project.evidence:
        why = read_photo(project, one.file).why if one.sort == "photo" else read_file(project, one.file)[1]
        if why:
            where = f"[[evidence]] {short(one.id or one.title, 60)}"
            faults.append(InputError(f"'{short(one.file, 80)}': {why}", field="file", where=where))
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
        there = inside and path.is_file()
        size = path.stat().st_size if there else 0
        large = size if size > LARGEST_PHOTO else 0
        data = path.read_bytes() if there and not large else None
    except (OSError, ValueError):
        inside, data, large = True, None, 0
    if not inside:
        return b"", "it lies outside the project's folder"
    if large:
        return b"", f"it has {large / 1e6:.0f} MB, at most {LARGEST_PHOTO / 1e6:.0f} MB are taken: save it smaller"
    return (b"", "there is no such file beside the project") if data is None else (data, "")


@dataclass(frozen=True, slots=True)
class Photo:
    """A picture as it is attached, with the checksum of the file it was made from, or why it cannot be."""

    data: bytes = b""
    kind: str = ""
    sha: str = ""
    why: str = ""


MOST_KEPT = 64_000_000
"""Bytes of pictures that are kept made: some 200 of a phone."""
_MADE: OrderedDict[str, Photo] = OrderedDict()
"""Photos by the checksum of their file, those used last at the end: several items may show one, and the check before
the work reads all of them."""


def read_photo(project: Project, name: str) -> Photo:
    """A photo beside the project, no larger than a page or a phone can show."""
    data, why = read_file(project, name)
    if not data:
        return Photo(why=why)
    sha = hashlib.sha256(data).hexdigest()
    if sha not in _MADE:
        _MADE[sha] = _made(data, sha)
    _MADE.move_to_end(sha)
    while len(_MADE) > 1 and sum(len(one.data) for one in _MADE.values()) > MOST_KEPT:
        _MADE.popitem(last=False)
    return _MADE[sha]


def _made(data: bytes, sha: str) -> Photo:
    kind = next((word for head, word in PICTURES.items() if data.startswith(head)), "")
    unreadable = Photo(why="it cannot be read as a PNG, JPEG, GIF or WebP picture")
    if not kind:
        return unreadable
    try:
        wide, high, fitted = _fitted(data)
    except Exception:  # whatever a broken picture makes of its decoder
        return unreadable
    if wide * high > MOST_PIXELS:
        return Photo(why=f"it has {wide} by {high} pixels, at most {MOST_PIXELS / 1e6:.0f} million are taken: "
                         "save it smaller")  # fmt: skip
    if fitted:
        return Photo(fitted, "jpg", sha)
    return Photo(data, kind, sha) if readable(data, kind) else unreadable


def _fitted(data: bytes) -> tuple[int, int, bytes]:
    """(width, height, the picture made smaller) in pixels; no bytes where it stays as it is.

    What is made smaller stands upright, as the camera was held, and says nothing of where it was taken.
    """
    from io import BytesIO

    from PIL import Image, ImageOps

    Image.MAX_IMAGE_PIXELS = None  # the limit here is our own, and told
    with Image.open(BytesIO(data)) as found:
        wide, high = found.size
        if wide * high > MOST_PIXELS or (max(wide, high) <= LONG_EDGE and len(data) <= SMALL):
            if wide * high <= MOST_PIXELS:
                found.load()
            return wide, high, b""
        found.draft("RGB", (LONG_EDGE, LONG_EDGE))  # a JPEG is decoded at a fraction of its size
        picture = ImageOps.exif_transpose(found).convert("RGBA")
        picture.thumbnail((LONG_EDGE, LONG_EDGE))
        ground = Image.new("RGB", picture.size, "white")
        ground.paste(picture, mask=picture)
        made = BytesIO()
        ground.save(made, "JPEG", quality=82)
        return wide, high, made.getvalue()


def readable(data: bytes, kind: str) -> bool:
    """Whether the typesetter can decode the picture, tried on a page of its own."""
    from tempfile import TemporaryDirectory

    import typst

    try:
        with TemporaryDirectory(prefix="jointcalc-") as folder:
            page = Path(folder, "page.typ")
            page.write_text(f'#image("p.{kind}")', encoding="utf-8")
            Path(folder, f"p.{kind}").write_bytes(data)
            typst.compile(str(page), root=folder, format="pdf", ignore_system_fonts=True, font_paths=[])
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
        photo = read_photo(project, name)
        if not photo.data:
            yield {"note": f"The photo '{breakable(short(name, 80), 30)}' is not attached: {photo.why}."}
            continue
        named_file = [f"photo {breakable(short(name, 80), 30)}", photo.sha]
        if named_file not in inputs:
            inputs.append(named_file)
        caption = told.get(name) or breakable(own)
        yield {"note": "", "file": add(photo.data, photo.kind), "caption": caption,
               "alt": short(f"Photo attached by the builder to {own}: {caption}", 300)}  # fmt: skip
