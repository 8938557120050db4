"""How much one colour stands out from another, after the Web Content Accessibility Guidelines 2: 4.5 is asked of text, 3 of graphics."""

Colour = tuple[int, int, int]


def of_hex(colour: str) -> Colour:
    """Red, green and blue of a colour as style sheets write it, ``#rrggbb``."""
    red, green, blue = (int(colour[place : place + 2], 16) for place in (1, 3, 5))
    return red, green, blue


def luminance(colour: Colour) -> float:
    """From 0, black, to 1, white."""
    parts = [part / 255 for part in colour]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: Colour, other: Colour) -> float:
    """The lighter over the darker, each with 0.05 besides: from 1 to 21."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)
