"""Sphinx: the site of docs/build.sh, which puts docs, README.md, DEVELOPERS.md and the notebooks into one folder of pages and runs Sphinx on it."""

import html
import importlib
import inspect
import json
import os
import re
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import ferment
from docutils import nodes
from docutils.parsers.rst import Directive
from docutils.utils.math import MathError
from docutils.utils.math.latex2mathml import tex2mathml
from pygments import highlight
from pygments.formatters import HtmlFormatter
from pygments.lexers import TextLexer, get_lexer_for_filename
from pygments.util import ClassNotFound
from sphinx.util.logging import getLogger

logger = getLogger(__name__)
ROOT = Path(__file__).resolve().parent.parent
TAGS = ROOT / "build" / "docs" / "ferment.tag"

project = "libferment"
author = "libferment contributors"
copyright = author  # noqa: A001
version = release = ferment.__version__

extensions = ["myst_nb", "sphinx.ext.autodoc", "sphinx.ext.autosummary", "sphinx.ext.napoleon"]
html_theme = "furo"
html_math_renderer = "mathml"  # of this file: the site needs no network
html_title = f"libferment {release}"
html_extra_path = [str(ROOT / "build" / "docs" / "doxygen")]  # the folder cpp
html_static_path = ["static"]
html_css_files = ["site.css"]
html_show_sphinx = False
html_copy_source = False
exclude_patterns = ["*.py", "Doxyfile"]
nitpick_ignore_regex = [("py:class", r"(?!ferment\.).*")]  # types are in words: "float or array_like", "% mass"

nb_execution_mode = "off"  # their output is checked in, and tested
nb_render_markdown_format = "myst"  # tables in their output
myst_enable_extensions = ["dollarmath", "amsmath"]
myst_heading_anchors = 3

autodoc_member_order = "groupwise"
autodoc_typehints = "none"  # the docstrings say what is taken, with units
autodoc_docstring_signature = True  # compiled functions begin with theirs
autosummary_generate = False
napoleon_google_docstring = False
napoleon_use_param = False  # types in words: "float or array_like" is no class to look for
napoleon_use_rtype = False
napoleon_custom_sections = [("Attributes", "returns_style")]  # words again: "extract" there is no link
python_maximum_signature_line_length = 100

# ---- links to what is no page: tests, examples, headers ----

LINK = re.compile(r"\[(?P<text>(?:`[^`]*`|[^\]`])+)\]\((?P<target>[^)\s:#]+)(?P<anchor>#[^)\s]*)?\)")
PYTEST = re.compile(r"`(?P<path>tests/python/\w+\.py)::(?P<name>\w+)`")
HEADER = re.compile(r"`(?P<path>(?:\w+/)*\w+\.hpp)`")
FENCE = re.compile(r"^```.*?^```$", re.MULTILINE | re.DOTALL)
FROM_ROOT = {"README", "DEVELOPERS"}
shown: dict[str, list[str]] = {}  # files shown beside the pages, with their lines


def original(docname: str) -> Path:
    """Where a page stands in the checkout."""
    if docname in FROM_ROOT:
        return ROOT / f"{docname}.md"
    return ROOT / (f"{docname}.ipynb" if docname.startswith("notebooks/") else f"docs/{docname}.md")


def page_of(file: Path) -> str | None:
    """The page made from a file, if there is one."""
    path = file.relative_to(ROOT)
    if path.parts[0] == "docs" and file.suffix == ".md":
        return str(path.relative_to("docs"))
    if path.parts[0] == "notebooks" or path.stem in FROM_ROOT:
        return str(path)
    return None


def anchor(text: str, url: str) -> str:
    inside = re.sub(r"`([^`]*)`", r"<code>\1</code>", html.escape(text, quote=False))
    return f'<a class="reference" href="{url}">{inside}</a>'


def shown_file(docname: str, path: str, name: str = "") -> str:
    """The address of a file of the checkout on the site, at the line that holds a name."""
    if path not in shown:
        shown[path] = (ROOT / path).read_text(encoding="utf-8").splitlines()
    quoted = (f'"{name}"', f"def {name}(")
    line = next((i for i, text in enumerate(shown[path], 1) if name and any(q in text for q in quoted)), 0)
    return os.path.relpath(f"files/{path}.html", Path(docname).parent) + (f"#line-{line}" if line else "")


def rewrite_links(_app: Any, docname: str, content: list[str]) -> None:
    """Links of a page that lead outside the pages become links to the file as the site shows it; headers lead to their reference."""
    if docname == "notebooks" or docname.startswith("python/"):
        return
    here = original(docname).parent
    headers = header_pages()

    def link(match: re.Match[str]) -> str:
        file = (here / match["target"]).resolve()
        if file == ROOT / "notebooks":
            return f"[{match['text']}]({os.path.relpath('notebooks.md', Path(docname).parent)})"
        if not file.is_file() or not file.is_relative_to(ROOT) or file.suffix == ".png":
            return match[0]  # what is missing Sphinx will say
        page = page_of(file)
        if page is not None:
            target = os.path.relpath(page, Path(docname).parent)
            return f"[{match['text']}]({target}{match['anchor'] or ''})"
        name = re.search(r'"(.+)"', match["text"])
        return anchor(match["text"], shown_file(docname, str(file.relative_to(ROOT)), name[1] if name else ""))

    def header(match: re.Match[str]) -> str:
        page = headers.get(match["path"].removeprefix("ferment/"))
        return match[0] if page is None else anchor(match[0], os.path.relpath(f"cpp/{page}", Path(docname).parent))

    def prose(text: str) -> str:
        text = LINK.sub(link, text)
        text = PYTEST.sub(lambda m: anchor(m[0], shown_file(docname, m["path"], m["name"])), text)
        return re.sub(r"<a .*?</a>|" + HEADER.pattern, lambda m: m[0] if m["path"] is None else header(m), text)

    def page(text: str) -> str:
        parts, end = [], 0
        for fence in FENCE.finditer(text):
            parts += [prose(text[end : fence.start()]), fence[0]]
            end = fence.end()
        return "".join([*parts, prose(text[end:])])

    if docname.startswith("notebooks/"):
        notebook = json.loads(content[0])
        for cell in notebook["cells"]:
            if cell["cell_type"] == "markdown":
                cell["source"] = page("".join(cell["source"]))
        content[0] = json.dumps(notebook)
    else:
        content[0] = page(content[0])


def header_pages() -> dict[str, str]:
    """The page of each header in Doxygen's reference, by "folder/name.hpp"."""
    if not TAGS.exists():
        return {}
    pages = {}
    for compound in ElementTree.parse(TAGS).iter("compound"):
        if compound.get("kind") == "file":
            path = f"{compound.findtext('path')}{compound.findtext('name')}"
            pages[path.rsplit("ferment/", 1)[-1]] = f"{compound.findtext('filename')}".removesuffix(".html") + ".html"
    return pages


def write_shown_files(app: Any, exception: Exception | None) -> None:
    """The files that pages link to, with numbered lines."""
    if exception is not None:
        return
    for path, lines in shown.items():
        try:
            lexer = get_lexer_for_filename(path)
        except ClassNotFound:
            lexer = TextLexer()
        formatter = HtmlFormatter(full=True, title=path, linenos="inline", lineanchors="line", wrapcode=True)
        target = Path(app.outdir) / "files" / f"{path}.html"
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(highlight("\n".join(lines), lexer, formatter), encoding="utf-8")


# ---- pages made when the site is built ----


class FermentSources(Directive):
    """Tables of ferment.sources(), one for each folder."""

    def run(self) -> list[nodes.Node]:
        found: list[nodes.Node] = []
        for folder in dict.fromkeys(source.folder for source in ferment.sources()):
            section = nodes.section(ids=[f"sources-{folder}"], names=[folder])
            section += nodes.title(text=folder)
            listed = nodes.definition_list()
            for source in ferment.sources():
                if source.folder != folder:
                    continue
                item = nodes.definition_list_item()
                item += nodes.term("", "", nodes.literal(text=source.name), nodes.Text(f": {source.quantity}"))
                facts = nodes.bullet_list()
                for name in ("citation", "range", "uncertainty", "status"):
                    line = nodes.paragraph("", "", nodes.emphasis(text=name), nodes.Text(f": {getattr(source, name)}"))
                    facts += nodes.list_item("", line)
                item += nodes.definition("", facts)
                listed += item
            section += listed
            found.append(section)
        return found


def write_reference(app: Any) -> None:
    """A page for the package and for each module it names."""
    folder = Path(app.srcdir) / "python"
    folder.mkdir(exist_ok=True)
    public = [getattr(ferment, name) for name in ferment.__all__]
    modules = [ferment, *(m for m in public if inspect.ismodule(m))]
    names = sorted(path.stem for path in Path(ferment.__file__).parent.glob("[a-z]*.py"))
    modules += [importlib.import_module(f"ferment.{name}") for name in names if name not in ferment.__all__]
    for module in modules:
        members = sorted(n for n in module.__all__ if callable(getattr(module, n)))
        table = "\n".join(f"   {module.__name__}.{name}" for name in members)
        text = (
            f"# {module.__name__}\n\n```{{eval-rst}}\n.. autosummary::\n   :nosignatures:\n\n{table}\n\n"
            f".. automodule:: {module.__name__}\n   :members:\n```\n"
        )
        page = folder / f"{module.__name__.removeprefix('ferment.')}.md"
        if not page.exists() or page.read_text(encoding="utf-8") != text:
            page.write_text(text, encoding="utf-8")


def mathml(translator: Any, node: Any) -> None:
    """Formulas as MathML, which browsers draw themselves; delimiters grow there without being told."""
    displayed = isinstance(node, nodes.math_block)
    source = re.sub(r"\\[bB]igg?[lrm]?(?![a-zA-Z])", "", node.astext())
    try:
        formula = tex2mathml(source, as_block=displayed)
    except MathError as error:
        logger.warning("formula %r: %s", node.astext(), error, location=node)
        formula = f"<code>{html.escape(node.astext())}</code>"
    translator.body.append(f'<div class="formula">{formula}</div>' if displayed else formula)
    raise nodes.SkipNode


def write_notebook_list(app: Any) -> None:
    """The page that gathers the notebooks, of which there may be none."""
    names = sorted(path.stem for path in (Path(app.srcdir) / "notebooks").glob("*.ipynb"))
    listed = "\n".join(f"notebooks/{name}" for name in names)
    toctree = f"```{{toctree}}\n:maxdepth: 1\n\n{listed}\n```\n" if names else "None here yet.\n"
    text = "Worked batches on invented data, with their results as they were when last run.\n\n"
    (Path(app.srcdir) / "notebooks.md").write_text(f"# Notebooks\n\n{text}{toctree}", encoding="utf-8")


def escape_names(_app: Any, _what: str, _name: str, _obj: object, _options: object, lines: list[str]) -> None:
    """A name that ends in an underscore is no reference."""
    lines[:] = [re.sub(r"(?<![`\w])(\w+)_(?![\w`])", r"\1\\_", line) for line in lines]


def setup(app: Any) -> None:
    app.add_html_math_renderer("mathml", (mathml, None), (mathml, None))
    app.add_directive("ferment-sources", FermentSources)
    app.connect("builder-inited", write_reference)
    app.connect("builder-inited", write_notebook_list)
    app.connect("autodoc-process-docstring", escape_names, priority=600)  # after napoleon
    app.connect("source-read", rewrite_links)
    app.connect("build-finished", write_shown_files)
