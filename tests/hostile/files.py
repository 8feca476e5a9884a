"""Files that somebody might send by mistake or in bad faith, made here and shared by all who read files."""

from __future__ import annotations

from pathlib import Path

JOB = (Path(__file__).parents[2] / "examples" / "foyer.yaml").read_text(encoding="utf-8")

Located = dict[str, tuple[bytes, str]]


def hostile_files() -> Located:
    """Name to bytes and the code of the problem that names the mistake."""
    return {**_sizes(), **_encodings(), **_yaml(), **_values()}


def _sizes() -> Located:
    return {
        "huge.yaml": (b"# a comment\n" * 4_500_000, "file-too-large"),
        "brackets.yaml": (b"a: " + b"[" * 3000, "too-deep"),
        "bare-brackets.yaml": (b"[" * 3000, "too-deep"),
        "braces.yaml": (b"a: " + b"{a:\n" * 3000, "too-deep"),
        "closed-brackets.yaml": (b"a: " + b"[" * 3000 + b"]" * 3000, "too-deep"),
        "dashes.yaml": (b"a:\n  " + b"- " * 3000 + b"x\n", "too-deep"),
        "stairs.yaml": ("".join(" " * n + f"k{n}:\n" for n in range(300)).encode(), "too-deep"),
        "question-marks.yaml": (b"? " * 3000, "too-deep"),
        "many-keys.yaml": ("".join(f"k{n}: 1\n" for n in range(19_000)).encode(), "too-many-values"),
        "many-items.yaml": (b"a: [" + b"1,\n" * 15_000 + b"1, 1]" + b"\nb: [" + b"1,1,\n" * 4_000 + b"1]\n", "too-many-values"),
        "many-lines.yaml": (b"\n" * 1_000_000 + b"a: 1\n", "too-many-lines"),
        "long-line.yaml": (b"title: " + b"x" * 1_000_000 + b"\n", "line-too-long"),
        "long-key.yaml": (b"k" * 9_000 + b": 1\n", "yaml-colon"),
        "long-lines.yaml": (b"a:\n" + (b"  " + b"x y " * 2_000 + b"\n") * 130, "too-much-text"),
        "lines-nearly-too-long.yaml": (_job("title: Night", "title: " + "\n  ".join(["x y " * 2_400] * 38)), "too-long"),
        "long-comment.yaml": (b"# " + b"x" * 1_000_000 + b"\na: 1\n", "line-too-long"),
        "long-number.yaml": (_job("dim: 0.8", "dim: " + "9" * 1_000_000), "line-too-long"),
        "thousands-of-digits.yaml": (_job("dim: 0.8", "dim: " + "9" * 5_000), "too-long"),
        "long-title.yaml": (_job("title: Night sky for the foyer", "title: " + "night " * 900), "too-long"),
        "many-readings.yaml": ((JOB + "measured:\n" + "  - {name: gap, value: 1 mm}\n" * 600).encode(), "too-many-items"),
        "many-mistakes.yaml": (JOB.encode() + "".join(f"wdth{n}: 1\n" for n in range(3_000)).encode(), "unknown-key"),
    }


def _encodings() -> Located:
    return {
        "utf-16.yaml": (JOB.encode("utf-16"), "not-utf-8"),
        "utf-16-no-mark.yaml": (JOB.encode("utf-16-le"), "not-utf-8"),
        "utf-16-big.yaml": (JOB.encode("utf-16-be"), "not-utf-8"),
        "utf-32.yaml": (JOB.encode("utf-32"), "not-utf-8"),
        "latin-1.yaml": (_job("matt black", "mattschwarz grün").decode().encode("latin-1"), "not-utf-8"),
        "half-a-letter.yaml": ("title: grün".encode()[:-2], "not-utf-8"),
        "binary.yaml": (b"\x7fELF\x02\x01\x01\x00" + bytes(range(256)), "not-utf-8"),
        "picture.yaml": (b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", "not-utf-8"),
        "zeros.yaml": (b"title: x\x00\x00\x00\n", "binary-file"),
        "bell.yaml": (b"title: x\x07\n", "control-character"),
        "escape.yaml": (b"title: \x1b[31mred\x1b[0m\n", "control-character"),
        "mark-inside.yaml": ("title: a\ufeffb\n".encode(), "control-character"),
        "empty.yaml": (b"", "empty-file"),
        "blank.yaml": (b"\n\n   \n", "empty-file"),
        "only-comments.yaml": (b"# nothing\n# here\n", "empty-file"),
        "only-a-mark.yaml": (b"\xef\xbb\xbf", "empty-file"),
        "only-dashes.yaml": (b"---\n", "empty-file"),
    }


def _yaml() -> Located:
    laughs = "a0: &a0 [x, x]\n" + "".join(f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]\n" for n in range(1, 12))
    return {
        "exploding-aliases.yaml": (laughs.encode(), "anchor"),
        "anchor.yaml": (b"title: &t x\n", "anchor"),
        "alias.yaml": (b"title: *t\n", "anchor"),
        "own-alias.yaml": (b"a: &a [*a]\n", "anchor"),
        "merge-key.yaml": (b"<<: {title: x}\n", "merge-key"),
        "tag.yaml": (b"title: !!python/object/apply:os.system [echo]\n", "tag"),
        "own-tag.yaml": (b"title: !x y\n", "tag"),
        "binary-tag.yaml": (b"title: !!binary aGVsbG8=\n", "tag"),
        "undefined-tag.yaml": (b"title: !a!b y\n", "tag"),
        "duplicate-keys.yaml": (JOB.encode() + b"title: again\n", "duplicate-key"),
        "duplicate-flow-keys.yaml": (_job("{width: 53 1/4 in,", "{width: 53 1/4 in, width: 1 mm,"), "duplicate-key"),
        "several-documents.yaml": (b"a: 1\n---\nb: 2\n", "several-documents"),
        "version-directive.yaml": (b"%YAML 1.1\n---\ntitle: on\n", "yaml-directive"),
        "long-version.yaml": (b"%YAML " + b"1" * 9_000 + b".1\n---\na: 1\n", "yaml-directive"),
        "tag-directive.yaml": (b"# x\n%TAG ! tag:example.invalid,2000:\n---\na: 1\n", "yaml-directive"),
        "tabs.yaml": (b"screen:\n\taspect: 16:9\n", "tab-indentation"),
        "bad-indentation.yaml": (b"a:\n  b: 1\n c: 2\n", "yaml-indentation"),
        "open-quote.yaml": (b'title: "x\nclient: y\n', "yaml-quote"),
        "open-bracket.yaml": (b"viewers: [1, 2\nclient: y\n", "yaml-bracket"),
        "bad-escape.yaml": (b'title: "\\q"\n', "yaml-escape"),
        "no-such-character.yaml": (b'title: "\\UFFFFFFFF"\n', "yaml-syntax"),
        "list.yaml": (b"- title: x\n", "not-a-mapping"),
        "text.yaml": (b"just a letter to a friend\n", "not-a-mapping"),
        "list-as-key.yaml": (b"? [a, b]\n: c\n", "key-not-text"),
        "no-key.yaml": (b": c\n", "key-not-text"),
    }


def _values() -> Located:
    def value(text: str) -> bytes:
        return _job("53 1/4 in", text)

    return {
        "nan.yaml": (value(".nan"), "not-a-number"),
        "infinity.yaml": (value("inf"), "not-a-number"),
        "minus-infinity.yaml": (value("-.inf mm"), "not-a-number"),
        "exponent.yaml": (value("1e309 mm"), "exponent"),
        "negative.yaml": (value("-3 in"), "out-of-range"),
        "absurd.yaml": (value("99999999 mm"), "out-of-range"),
        "zero.yaml": (value("0 mm"), "out-of-range"),
        "bare.yaml": (value("53"), "bare-number"),
        "wrong-unit.yaml": (value("53 kg"), "unknown-unit"),
        "no-denominator.yaml": (value("1/0 in"), "fraction-denominator"),
        "near-keys.yaml": (_job("{width: 53 1/4 in,", "{width: 53 1/4 in, Width: 1 mm,"), "unknown-key"),
        "no-such-word.yaml": (_job("construction: lit-screen", "construction: unlit"), "unknown-word"),
        "group-for-a-value.yaml": (_job("title: Night sky for the foyer", "title: {a: b}"), "wrong-shape"),
        "list-for-a-group.yaml": (_job("lights: {kind: tape-24-100, colour: 3000 K, dim: 0.8}", "lights: [tape]"), "wrong-shape"),
        "other-kind.yaml": (_job("halfsilver: job/1", "halfsilver: workshop/1"), "wrong-kind"),
        "newer.yaml": (_job("halfsilver: job/1", "halfsilver: job/2"), "newer-version"),
        "no-kind.yaml": (_job("halfsilver: job/1\n", ""), "missing-key"),
    }


def _job(old: str, new: str) -> bytes:
    if old not in JOB:
        raise LookupError(old)
    return JOB.replace(old, new, 1).encode()
