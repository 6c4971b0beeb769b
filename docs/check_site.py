"""Looks for dead links inside a built site, anchors included.

    python check_site.py build/docs/html

Prints each and ends with an error where there is one. Links between Doxygen's own pages are Doxygen's affair; links that lead into them are followed.
"""

import functools
import sys
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit


class Page(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.links: list[str] = []
        self.anchors: set[str] = set()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        for name, value in attrs:
            if value and name in ("href", "src"):
                self.links.append(value)
            elif value and (name == "id" or (tag == "a" and name == "name")):
                self.anchors.add(value)


@functools.cache
def read(path: Path) -> Page:
    page = Page()
    page.feed(path.read_text(encoding="utf-8", errors="replace"))
    return page


def dead(path: Path, link: str) -> bool:
    parts = urlsplit(link)
    if parts.scheme or parts.netloc:
        return False
    target = (path.parent / unquote(parts.path)).resolve() if parts.path else path
    if not target.is_file():
        return True
    if not parts.fragment or target.suffix != ".html":
        return False
    return unquote(parts.fragment) not in read(target).anchors


def main(site: Path) -> int:
    pages = [p for p in sorted(site.rglob("*.html")) if p.relative_to(site).parts[0] != "cpp"]
    found = [f"{p.relative_to(site)}: {link}" for p in pages for link in dict.fromkeys(read(p).links) if dead(p, link)]
    print("\n".join(found) or f"{len(pages)} pages, no dead link")
    return 1 if found or not pages else 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]).resolve()))
