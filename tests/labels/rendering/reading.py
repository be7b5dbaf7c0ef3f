"""Reading a label's PDF back with libraries that had no part in drawing it."""

import io
import re
from collections import defaultdict
from importlib.resources import files

import pdfplumber
import pypdfium2
from fontTools.ttLib import TTFont

MM = 25.4 / 72
DPI = 2400

# How the private names of our type appear in a PDF, and the file behind each.
FILES = {
    f"{family}{cut}{width}": (package, f"{stem}-{file}")
    for family, width, package, stem in (
        ("Label-Sans", "", "fontpkg_fira_sans", "FiraSans"),
        ("Label-Sans-Narrow", "-Condensed", "fontpkg_fira_sans_condensed", "FiraSansCondensed"),
    )
    for cut, file in (
        ("", "Regular"), ("-Italic", "Italic"), ("-Medium", "Medium"),
        ("-Semi-Bold", "SemiBold"), ("-Bold", "Bold"),
    )
}  # fmt: skip
BOLD = {name for name, (_, file) in FILES.items() if file.endswith("-Bold")}


def os2_x_ratio(font_name):
    """sxHeight of the OS/2 table of the font file behind a name in the PDF, in em."""
    package, stem = FILES[font_name]
    with TTFont(str(files(package) / "files" / f"{stem}.ttf")) as font:
        return font["OS/2"].sxHeight / font["head"].unitsPerEm


def characters(pdf, *, page=0):
    with pdfplumber.open(io.BytesIO(pdf)) as document:
        return document.pages[page].chars


def font_name(character):
    return character["fontname"].split("+")[-1]


def fonts(pdf):
    return {font_name(each) for each in characters(pdf)}


def is_upright(character):
    """Whether a character stands on a level line (the mark of a proof does not)."""
    return abs(character["matrix"][1]) < 1e-6


def bare(text):
    """A text without its spaces: where lines end is the drawing's own business."""
    return re.sub(r"\s+", "", text)


def text_by_pdfplumber(pdf, *, page=0):
    return bare("".join(each["text"] for each in characters(pdf, page=page)))


def text_by_pdfium(pdf, *, page=0):
    document = pypdfium2.PdfDocument(pdf)
    text = document[page].get_textpage().get_text_range()
    document.close()
    return bare(text)


def bold_text(pdf):
    """What is set in Bold; Semi-Bold is another cut."""
    return bare("".join(each["text"] for each in characters(pdf) if font_name(each) in BOLD))


def page_sizes_mm(pdf):
    document = pypdfium2.PdfDocument(pdf)
    sizes = [(page.get_width() * MM, page.get_height() * MM) for page in document]
    document.close()
    return sizes


def ink_height_mm(pdf, character, *, above_em, below_em):
    """Height of the ink of one character, from a 2400 dpi raster by pdfium."""
    document = pypdfium2.PdfDocument(pdf)
    page = document[0]
    width, height = page.get_size()
    baseline, size = character["matrix"][5], character["size"]
    # The middle of the letter: what stands left and right of it must not lend its height.
    margin = 0.12 * (character["x1"] - character["x0"])
    crop = (
        character["x0"] + margin,
        baseline - below_em * size,
        width - character["x1"] + margin,
        height - baseline - above_em * size,
    )
    tile = page.render(scale=DPI / 72, grayscale=True, crop=crop).to_pil()
    document.close()
    box = tile.point(lambda level: 255 if level < 128 else 0).getbbox()
    return (box[3] - box[1]) * 25.4 / DPI


def x_heights_mm(pdf):
    """The x-height of every cut and size on a label: measured, or by size without v, w, x, z."""
    groups = defaultdict(list)
    for each in characters(pdf):
        if each["text"].strip() and is_upright(each):
            groups[font_name(each), round(each["size"], 2)].append(each)
    found = {}
    for (name, size), group in groups.items():
        # Not z, w or v alone: any of the four whose ink ends flat at x-height.
        letters = [each for each in group if each["text"] in "vwxz"][:3]
        if letters:
            found[name, size] = min(
                ink_height_mm(pdf, each, above_em=0.62, below_em=0.06) for each in letters
            )
        else:
            found[name, size] = size * MM * os2_x_ratio(name)
    return found


def figure_heights_mm(pdf, figures):
    """Heights of the largest run of some figures on the label."""
    chosen = [each for each in characters(pdf) if each["text"] in figures]
    largest = max(each["size"] for each in chosen)
    return [
        ink_height_mm(pdf, each, above_em=0.85, below_em=0.04)
        for each in chosen
        if abs(each["size"] - largest) < 0.01
    ]


def ink_box_mm(pdf, *, page=0, dpi=600, region_mm=None):
    """Left, top, right and bottom of all ink on a page or in a region of it (from its top left)."""
    document = pypdfium2.PdfDocument(pdf)
    sheet = document[page]
    width, height = (side * MM for side in sheet.get_size())
    left, top, right, bottom = region_mm or (0, 0, width, height)
    crop = tuple(max(edge, 0) / MM for edge in (left, height - bottom, width - right, top))
    tile = sheet.render(scale=dpi / 72, grayscale=True, crop=crop).to_pil()
    document.close()
    box = tile.point(lambda level: 255 if level < 200 else 0).getbbox()
    if box is None:
        return None
    to_mm = 25.4 / dpi
    return (
        left + box[0] * to_mm, top + box[1] * to_mm, left + box[2] * to_mm, top + box[3] * to_mm,
    )  # fmt: skip
