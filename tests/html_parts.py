"""An HTML text taken apart: its elements, its texts, and what is wrong with it."""

from html.parser import HTMLParser

_VOID = {"input", "br", "hr", "img", "meta", "link", "col", "wbr", "source", "area", "base"}
_ENDS_A_PARAGRAPH = {
    "p",
    "div",
    "ul",
    "ol",
    "dl",
    "table",
    "form",
    "fieldset",
    "details",
    "figure",
    "section",
    "h1",
    "h2",
    "h3",
    "h4",
    "pre",
    "blockquote",
    "hr",
}


class Parts(HTMLParser):
    """An HTML text taken apart: elements, texts, and what is wrong with the nesting."""

    def __init__(self, text):
        super().__init__(convert_charrefs=True)
        self.elements = []  # (tag, {attribute: value})
        self.texts = []  # (open elements as (tag, attributes), text)
        self.wrong = []
        self._open = []
        self.feed(text)
        self.close()
        self.wrong += [f"<{tag}> is not closed" for tag, _ in self._open]

    def handle_starttag(self, tag, attrs):
        names = [name for name, _ in attrs]
        if len(set(names)) != len(names):
            self.wrong.append(f"<{tag}> has an attribute twice")
        if tag in _ENDS_A_PARAGRAPH and any(one == "p" for one, _ in self._open):
            self.wrong.append(f"<{tag}> within <p>")
        if tag in ("form", "button", "a", "label") and any(one == tag for one, _ in self._open):
            self.wrong.append(f"<{tag}> within <{tag}>")
        self.elements.append((tag, dict(attrs)))
        if tag not in _VOID:
            self._open.append((tag, dict(attrs)))

    def handle_endtag(self, tag):
        if not self._open or self._open[-1][0] != tag:
            self.wrong.append(f"</{tag}> closes nothing")
        else:
            self._open.pop()

    def handle_data(self, data):
        self.texts.append((tuple(self._open), data))

    def handle_comment(self, data):
        self.wrong.append("a comment")

    def handle_decl(self, decl):
        self.wrong.append("a declaration")

    def handle_pi(self, data):
        self.wrong.append("a processing instruction")

    def unknown_decl(self, data):
        self.wrong.append("a declaration")

    @property
    def tags(self):
        """The names of the elements."""
        return {tag for tag, _ in self.elements}

    @property
    def attributes(self):
        """The names of the attributes."""
        return {name for _, attributes in self.elements for name in attributes}

    def values(self, name):
        """Return the values of an attribute, in order."""
        return [attributes[name] for _, attributes in self.elements if name in attributes]

    @property
    def text(self):
        """All the text that is not markup."""
        return "".join(text for _, text in self.texts)
