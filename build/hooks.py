"""The only hook into MkDocs: tells the directives which file is being read."""

from directives import Place, place


def on_page_markdown(markdown: str, page, **_) -> str:
    # The page's title block is not part of `markdown`; lines count in the whole file.
    source = page.file.content_string
    place.set(Place(f"docs/{page.file.src_uri}", source))
    return markdown
