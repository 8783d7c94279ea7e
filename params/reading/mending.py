"""What a person means by a line that is not TOML.

``tomllib`` stops at the first slip. Most slips leave no doubt about what was meant (``37 5/8 in``
without its quotes, a bracket left open), so the line is put right in memory, the slip is
reported, and reading goes on: all that is wrong with a file comes in one go.
"""

import json
import re
from dataclasses import dataclass

from .paths import ROWS, shown


@dataclass(frozen=True, slots=True)
class Slip:
    """One line that is not TOML: what stands there, what should, and the line put right.

    ``mended`` is None where nobody can tell what was meant. ``quotes`` says that a value was
    only lacking its quotes.
    """

    read: str
    wanted: str
    example: str
    mended: str | None = None
    quotes: bool = False


_KEY = r"\"[^\"]*\"|'[^']*'|[\w-]+"
_PAIR = re.compile(rf"(\s*)((?:{_KEY})(?:\s*\.\s*(?:{_KEY}))*)\s*=\s*(.*?)\s*")
_COLON = re.compile(rf"(\s*)({_KEY})\s*:\s*(.*\S)\s*")
_HEADER = re.compile(r"\s*(\[+)\s*([\w.\"' -]+?)\s*(\]*)\s*(#.*)?")
_CURLY = re.compile("[“”„«»‘’](.*)[“”„«»‘’]")
_WORDS = {"true": "true", "yes": "true", "on": "true", "false": "false", "no": "false"}
_WORDS["off"] = "false"
_UNSEEN = re.compile("[\x80-\x9f\u200b\u200e\u200f\u2028-\u202e\u2060-\u2069\ufeff]")
"""Comes along when a text is copied; without the signs that join emoji and letters."""


def quoted(text: str) -> str:
    """Write a text as a TOML string, in the quotes that it does not have itself."""
    if "'" not in text and ('"' in text or "\\" in text):
        return f"'{text}'"
    return json.dumps(text, ensure_ascii=False)


def slip(line: str, message: str) -> Slip:
    """Say what is wrong with a line.

    Args:
        line: the line on which ``tomllib`` stopped, without its end.
        message: what ``tomllib`` said.
    """
    if "Illegal character" in message and re.search(r"[\x00-\x08\x0b-\x1f\x7f]", line):
        wanted = "text without control characters"
        return Slip(short(line.strip()), wanted, "", re.sub(r"[\x00-\x08\x0b-\x1f\x7f]", "", line))
    if _UNSEEN.search(line):
        seen = _UNSEEN.sub("", line)
        wanted = "text without signs that cannot be seen"
        return Slip(short(line.strip()), wanted, short(seen.strip()), seen)
    if "Unclosed array" in message and "=" not in line:
        element = re.fullmatch(r"(\s*)([^\"'\[\]{}#,]+?)(\s*,?\s*)(#.*)?", line)
        if element:
            text = quoted(element[2])
            mended = f"{element[1]}{text}{element[3]}"
            return Slip(element[2], "quotes round it", text, mended, quotes=True)
    pair = _PAIR.fullmatch(line)
    if pair:
        return _value(pair[1], pair[2], pair[3], message)
    colon = _COLON.fullmatch(line)
    if colon:
        mended = f"{colon[1]}{colon[2]} = {colon[3]}"
        return Slip(short(line.strip()), "= between key and value", mended.strip(), mended)
    header = _HEADER.fullmatch(line)
    if header and len(header[1]) <= 2 and header[1] != "[" * len(header[3]):
        count = 2 if header[2] in ROWS and "[[" in (header[1], header[3]) else 1
        mended = f"{'[' * count}{header[2]}{']' * count}"
        wanted = "as many brackets after the name as before it"
        return Slip(short(line.strip()), wanted, mended, mended)
    return Slip(shown(line.strip()), _sentence(message), "")


def _value(indent: str, key: str, rest: str, message: str) -> Slip:
    """Say what is wrong with the value of ``key = rest``."""
    bare = rest.partition("#")[0].strip()

    def mend(value: str, wanted: str, *, quotes: bool = False) -> Slip:
        line = f"{key} = {value}"
        read = rest if rest[0] in "\"'" else bare
        return Slip(short(read), wanted, line, indent + line, quotes)

    if not bare:
        empty = Slip("nothing", "a value after the =", "", f'{indent}{key} = ""')
        return Slip(empty.read, empty.wanted, f'{key} = "…"', empty.mended)
    if bare.lower() in _WORDS:
        return mend(_WORDS[bare.lower()], "true or false, in small letters")
    curly = _CURLY.fullmatch(bare)
    if curly:
        return mend(quoted(curly[1]), "straight quotes, not typographic ones")
    sign = rest[:1]
    if sign in {'"', "'"} and not rest.startswith(sign * 3):
        if rest.count(sign) == 1:
            text = rest[1:].partition("#")[0].strip()
            return mend(quoted(text), "a closing quote")
        inner = re.fullmatch(rf"{sign}(.*){sign}\s*(#[^{sign}]*)?", rest)
        if inner and sign in inner[1] and "," not in inner[1]:
            return mend(quoted(inner[1]), f"other quotes round a text that has {sign} in it")
        if inner and sign == '"' and "\\" in inner[1]:
            return mend(quoted(inner[1]), "single quotes round a text that has \\ in it")
    if bare.startswith("{") and re.search(r",\s*}$", bare):
        return mend(re.sub(r",\s*}$", " }", bare), "no comma before the }")
    if "Unclosed array" in message and bare[0] == "[":
        if "]" not in bare:
            return mend(f"{bare}]", "a closing bracket ]")
        commas = re.sub(r"([\"'])\s+(?=[\"'])", r"\1, ", bare)
        if commas != bare:
            return mend(commas, "a comma between the values")
    value = _with_quotes(bare)
    if value is not None:
        return mend(value, "quotes round it", quotes=True)
    return Slip(short(f"{key} = {rest}"), _sentence(message), "")


def short(text: str) -> str:
    """Show a piece of a line as it is where that hides nothing and is short."""
    return text if len(text) <= 60 and text.isprintable() else shown(text)


def _with_quotes(value: str) -> str | None:
    """Put quotes round what lacks them; None where it is not plain what belongs together."""
    if any(sign in value[:-1] for sign in "\"'") and value[0] in "\"'[{":
        return None
    if value[0] == "[" and value[-1] == "]" and not re.search(r"[\[\]{}]", value[1:-1]):
        parts = [part.strip() for part in value[1:-1].split(",")]
        return f"[{', '.join(quoted(part) for part in parts if part)}]"
    if value[0] == "{" and value[-1] == "}" and not re.search(r"[\[\]{}]", value[1:-1]):
        pairs = [part.partition("=") for part in value[1:-1].split(",")]
        if not all(each[1] and each[0].strip() and each[2].strip() for each in pairs):
            return None
        return f"{{ {', '.join(f'{k.strip()} = {quoted(v.strip())}' for k, _, v in pairs)} }}"
    return quoted(value) if value[0] not in "\"'[{" and "=" not in value else None


def _sentence(message: str) -> str:
    """Say in plain words what ``tomllib`` means."""
    for part, words in _SENTENCES:
        if part in message:
            return words
    return "a line of TOML: a [table], or key = value"


_SENTENCES = (
    ("Unclosed array", "a closing bracket ], and commas between the values"),
    ("Unclosed inline table", "a closing brace }, and commas between the keys, on one line"),
    ("Unterminated string", "a closing quote"),
    ("Illegal character '\\n'", "a closing quote on the same line"),
    ("Found invalid character '\\n'", "a closing quote on the same line"),
    ("Illegal character", "text without control characters"),
    ("initial character for a key", "{ … } on one line, without a comma before the }"),
    ("Expected '=' after a key", "key = value"),
    ("Unescaped", "single quotes round a text that has \\ in it"),
    ("Invalid value", "a value: text in quotes, a number, true, false, [a list] or { a table }"),
    ("Expected newline", "one key = value on each line, texts in quotes"),
)
