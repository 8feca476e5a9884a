"""Drawings of an outline, written by hand, and what somebody might bring in their place: name to bytes, and the code of its refusal."""

from __future__ import annotations

CORNERS = ((0, 0), (26, 0), (26, -5), (20, -5), (20, -30), (0, -30))  # body 20, lip 6, lip's back at 5, depth 30; y up
MM = "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n"


def drawing(entities: str, *, head: str = MM) -> bytes:
    return f"{head}0\nSECTION\n2\nENTITIES\n{entities}0\nENDSEC\n0\nEOF\n".encode()


def polyline(corners: object = CORNERS, *, closed: int = 1, more: str = "") -> str:
    points = "".join(f"10\n{x}\n20\n{y}\n" for x, y in corners)  # type: ignore[attr-defined]
    return f"0\nLWPOLYLINE\n8\n0\n90\n6\n70\n{closed}\n{points}{more}"


def lines(corners: tuple[tuple[float, float], ...] = CORNERS) -> str:
    ends = (*corners[1:], corners[0])
    return "".join(f"0\nLINE\n10\n{a}\n20\n{b}\n11\n{c}\n21\n{d}\n" for (a, b), (c, d) in zip(corners, ends, strict=True))


def hostile_drawings() -> dict[str, tuple[bytes, str]]:
    good = drawing(polyline())
    return {
        "empty": (b"0\n", "dxf-cut-short"),
        "cut short": (good[: len(good) // 2 - 1], "dxf-cut-short"),
        "binary": (b"Binary drawing\r\n\x1a\x00\x00\x00SECTION", "dxf-binary"),
        "zeros": (good.replace(b"LWPOLYLINE", b"LWPOLY\x00LINE"), "dxf-binary"),
        "zeros far behind": (good + b" " * 1_200_000 + b"\x00", "dxf-binary"),
        "huge": (good + b"999\nx\n" * 900_000, "file-too-large"),
        "endless line": (drawing(f"0\nTEXT\n1\n{'x' * 5000}\n" + polyline()), "line-too-long"),
        "no pairs": (b"0\nSECTION\n2\nENTITIES\nLINE\n0\n0\nEOF\n", "dxf-code"),
        "code without end": (b"0\nSECTION\n" + b"9" * 3000 + b"\nx\n0\nEOF\n", "dxf-code"),
        "picture": (b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", "dxf-binary"),
        "nan": (drawing(polyline([("nan", 0), *CORNERS])), "not-a-number"),
        "infinity": (drawing(polyline([("inf", 0), *CORNERS])), "not-a-number"),
        "overflow": (drawing(polyline([("1e999", 0), *CORNERS])), "not-a-number"),
        "far away": (drawing(polyline([("1e9", 0), *CORNERS])), "not-a-number"),
        "digits without end": (drawing(polyline([("1" * 4000, 0), *CORNERS])), "not-a-number"),
        "underscores": (drawing(polyline([("1_0", 0), *CORNERS])), "not-a-number"),
        "empty number": (drawing(polyline([("", 0), *CORNERS])), "not-a-number"),
        "no units": (drawing(polyline(), head=""), "dxf-unit"),
        "unitless": (drawing(polyline(), head=MM.replace("70\n4", "70\n0")), "dxf-unit"),
        "other units": (drawing(polyline(), head=MM.replace("70\n4", "70\n17")), "dxf-unit"),
        "units that are none": (drawing(polyline(), head=MM.replace("70\n4", "70\nx")), "dxf-unit"),
        "circle": (drawing(polyline() + "0\nCIRCLE\n10\n0\n20\n0\n40\n1\n"), "dxf-entity"),
        "spline": (drawing("0\nSPLINE\n10\n0\n20\n0\n"), "dxf-entity"),
        "insert": (drawing("0\nINSERT\n2\nx\n10\n0\n20\n0\n"), "dxf-entity"),
        "bell for a name": (drawing("0\n\x07\x1b[31m\n10\n0\n"), "dxf-entity"),
        "line without an end": (drawing("0\nLINE\n10\n0\n20\n0\n"), "dxf-entity"),
        "one corner": (drawing(polyline(CORNERS[:1])), "dxf-entity"),
        "seen from behind": (drawing(polyline(more="210\n0\n220\n0\n230\n-1\n")), "dxf-entity"),
        "mesh": (drawing("0\nPOLYLINE\n66\n1\n70\n16\n" + "0\nVERTEX\n10\n0\n20\n0\n" * 4 + "0\nSEQEND\n"), "dxf-entity"),
        "nothing": (drawing(""), "dxf-no-outline"),
        "words alone": (drawing("0\nTEXT\n1\nhello\n10\n0\n20\n0\n"), "dxf-no-outline"),
        "on paper": (drawing(polyline(more="67\n1\n")), "dxf-no-outline"),
        "nothing to see": (drawing(polyline(((1, 1), (1, 1), (1, 1)))), "dxf-no-outline"),
        "open": (drawing(polyline(closed=0)), "dxf-open"),
        "a gap": (drawing(lines().rpartition("0\nLINE")[0]), "dxf-open"),
        "two": (drawing(polyline() + polyline()), "dxf-several"),
        "billions of corners": (drawing(polyline([(i, i % 7) for i in range(20_000)])), "dxf-too-many"),
        "billions of pieces": (drawing("0\nLINE\n10\n0\n20\n0\n11\n1\n21\n1\n" * 20_000), "dxf-too-many"),
        "many corners": (drawing(polyline([(i / 100, (i % 2) / 10) for i in range(900)])), "profile-too-many-points"),
        "a triangle": (drawing(polyline(CORNERS[:3])), "profile-too-few-points"),
        "crossing": (drawing(polyline((CORNERS[0], CORNERS[2], CORNERS[1], *CORNERS[3:]))), "profile-crosses-itself"),
        "no rebate": (drawing(polyline(((0, 0), (20, 0), (20, -30), (10, -30), (0, -30)))), "profile-not-rebated"),
        "upside down": (drawing(polyline([(x, -y) for x, y in CORNERS])), "profile-not-rebated"),
        "other columns": (b"x,y\nmm,mm\n1,2\n", "unknown-column"),
        "no unit in the table": (b"x,z\n,\n1,2\n", "missing-unit"),
        "words in the table": (b"x,z\nmm,mm\none,two\n", "unreadable"),
        "no text": (b"\xff\xfex\x01", "not-utf-8"),
    }
