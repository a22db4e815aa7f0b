"""XML from anyone, read safely: the one place in the package that parses it.

A DOCTYPE that declares anything ends the reading before anything in it is believed, and with it
every entity; most readers here end at any. Source:
Python library manual, "XML vulnerabilities".
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from typing import TYPE_CHECKING
from xml.parsers import expat

from cutlayers.reading.values import ValueRefused
from cutlayers.telling.written import shown

if TYPE_CHECKING:
    from lxml import etree

DEEPEST = 200
"""Elements inside each other; drawing programs stay far below."""


def parse_markup(content: bytes, bare_doctype: bool = False) -> etree._Element:
    """The root element; comments are left out. Nothing but the bytes given is read.

    With `bare_doctype` a DOCTYPE that declares nothing itself is passed over, as old drawings have
    it, and so are instructions that name no style sheet. Raises ValueRefused for any other DOCTYPE
    or processing instruction, for what is not well-formed, or nests its elements more than DEEPEST
    deep.
    """
    from lxml import etree

    _refuse_declarations(content, bare_doctype)
    parser = etree.XMLParser(
        resolve_entities=False, no_network=True, load_dtd=False, remove_comments=True,
        remove_pis=True, huge_tree=False,
    )  # fmt: skip
    try:
        return etree.fromstring(content, parser)
    except (etree.XMLSyntaxError, ValueError) as error:
        raise ValueRefused(f"is not well-formed XML: {_first_line(error)}") from None


def local_name(element: etree._Element) -> str:
    """An element's name without its namespace; empty for what is no element."""
    tag = element.tag
    return tag.rpartition("}")[2] if isinstance(tag, str) else ""


@contextmanager
def on_its_line(element: etree._Element) -> Iterator[None]:
    """What is refused of an element, or of one inside that has told its own, is on its line."""
    try:
        yield
    except ValueRefused as refused:
        if refused.refusal.line is None:
            refused.refusal = replace(refused.refusal, line=element.sourceline)
        raise


def _refuse_declarations(content: bytes, bare_doctype: bool) -> None:
    """Run the file through a parser that stops at the first declaration, in any encoding."""
    depth = 0

    def doctype(_name: str, _system: object, _public: object, declares: int) -> None:
        if bare_doctype and not declares:
            return
        raise ValueRefused(
            "has a DOCTYPE, which can smuggle in other files", advice="save it without one"
        )

    def start(*_: object) -> None:
        nonlocal depth
        depth += 1
        if depth > DEEPEST:
            raise ValueRefused(
                f"nests its elements more than {DEEPEST} deep",
                line=parser.CurrentLineNumber,
                advice="flatten its groups",
            )

    def end(_: object) -> None:
        nonlocal depth
        depth -= 1

    def instruction(target: str, _: str) -> None:
        if bare_doctype and target != "xml-stylesheet":
            return
        raise ValueRefused(
            f"has a processing instruction ({shown(target)})",
            line=parser.CurrentLineNumber,
            found=target,
            advice="save it without one",
        )

    parser = expat.ParserCreate()
    parser.StartDoctypeDeclHandler = doctype
    parser.StartElementHandler = start
    parser.EndElementHandler = end
    parser.ProcessingInstructionHandler = instruction
    try:
        parser.Parse(content, True)
    except (expat.ExpatError, ValueError, LookupError) as error:
        if isinstance(error, ValueRefused):
            raise
        raise ValueRefused(f"is not well-formed XML: {_first_line(error)}") from None


def _first_line(error: Exception) -> str:
    lines = str(error).splitlines()
    return lines[0][:100] if lines else type(error).__name__
