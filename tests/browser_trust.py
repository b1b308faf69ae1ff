"""What the tests of the pages' default policy share."""

# Which pages would not be shown as they are, after a look at them.
AS_THEY_ARE = """async ([root, pages]) => {
    const changed = [];
    for (const page of pages) {
        const text = await (await fetch(root + page)).text();
        const sink = "DOMParser parseFromString";
        const clean = trustedTypes.defaultPolicy.createHTML(text, "TrustedHTML", sink);
        if (String(clean) !== text) changed.push(page);
    }
    return changed;
}"""
