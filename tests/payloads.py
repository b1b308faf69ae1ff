"""Hostile texts: markup, scripts, formulas of spreadsheets, signs that break other things."""

HUGE_ROWS = ";".join(["2,4"] * 300)
PAYLOADS = (
    "<script>alert(1)</script>",
    "</script><script src=//x.invalid/y></script>",
    '"><img src=x onerror=alert(1)>',
    "' onmouseover='alert(1)",
    '" autofocus onfocus="alert(1)',
    "<svg onload=alert(1)>",
    "<svg/onload=alert(1)//",
    "--><iframe srcdoc=x></iframe><!--",
    "</p></option></select><form action=//x.invalid>",
    "javascript:alert(1)",
    "data:text/html,<b>x</b>",
    "&lt;b&gt; &amp; &#60;",
    "{{7*7}}",
    "${7*7} #{7*7} <%= 7*7 %>",
    "%(x)s {0} {key!r}",
    "'; DROP TABLE loads; --",
    "1 OR 1=1",
    "4\x00",
    "\x00\x01\x07\x08\x1b[31m\x7f",
    "4\r\nSet-Cookie: a=b",
    "\ud800",
    "4\udfff",
    "\u202e4\u202c",
    "\u2066<b>\u2069",
    "9" * 5000,
    "0." + "0" * 400 + "1",
    "1e999",
    "1e2",
    "nan",
    "NaN",
    "inf",
    "-Infinity",
    "0x10",
    "1_0",
    "\u0664",
    "\uff14",
    "\u00b2",
    "\u22124",
    "4.",
    ".4",
    "+4",
    "--4",
    "4 4",
    "4,0,0",
    "4.0.0",
    "=1+1",
    "@SUM(A1:A9)",
    "+cmd|' /C calc'!A0",
    "../../../../etc/passwd",
    "..\\..\\x\x00.txt",
    "\U0001f50a\U0001f1e9\U0001f1ea",
    "e\u0301\u0327" * 20,
    ";;;;,,,,",
    HUGE_ROWS,
    "None",
    "true",
)

MANY = 30  # fields


def tried(fields, number, is_long):
    """Return the fields that a payload is tried in, by its number.

    In the short run a long form's fields have a third of the payloads each.
    """
    step = 1 if is_long or len(fields) < MANY else 3
    return [one for at, one in enumerate(fields) if (at + number) % step == 0]
