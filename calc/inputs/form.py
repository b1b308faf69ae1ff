"""The fields of one calculator, read together: all errors at once, and alternatives."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from dataclasses import field as attribute

from calc.inputs.errors import MOST_ERRORS, FieldError, InputError, shown
from calc.inputs.field_base import Field, Raw, Refused, Value

Check = Callable[[Mapping[str, Value]], Iterable[FieldError]]


@dataclass(frozen=True)
class Form:
    """The fields of one calculator, read together so that every error is told at once.

    `check` looks at what depends on several fields; it is given the values that could be
    read, which need not be all, and returns what is wrong with them.  `alternatives` are
    groups of optional fields of which exactly one group is in use: giving one clears the
    default of the others.  With `none_is_allowed`, all of them may be left empty.
    """

    fields: tuple[Field, ...]
    check: Check = lambda _: ()
    alternatives: tuple[tuple[str, ...], ...] = ()
    none_is_allowed: bool = False
    by_key: Mapping[str, Field] = attribute(init=False)

    def __post_init__(self) -> None:
        keys = {field.key: field for field in self.fields}
        if len(keys) != len(self.fields):
            raise ValueError("two fields share a key")
        object.__setattr__(self, "by_key", keys)

    def read(
        self, texts: Mapping[str, Raw], earlier: Iterable[FieldError] = ()
    ) -> dict[str, Value]:
        """Return every field's value; what is not given takes its default.

        earlier : what was found wrong before the fields were looked at, told with the rest

        Raises `InputError` with one entry for each wrong or unknown field.
        """
        unknown = [key for key in texts if key not in self.by_key]
        errors = [*earlier]
        errors += [
            FieldError(
                shown(key),
                shown(texts[key]),
                f"There is no field ‘{shown(key)}’. Use one of {', '.join(self.by_key)}.",
            )
            for key in unknown[:MOST_ERRORS]
        ]
        more = len(unknown[MOST_ERRORS:])
        values = {}
        for field, raw in zip(self.fields, self.filled(texts).values(), strict=True):
            try:
                values[field.key] = field.read(raw)
            except Refused as refused:
                errors += self._parts(field, raw, refused)
                more += refused.more
        errors += self.alternative_errors(texts, values)
        errors += self.check(values)
        if errors:
            raise InputError(errors, more)
        return values

    def _parts(self, field: Field, raw: Raw, refused: Refused) -> list[FieldError]:
        """Return what a field refuses, each thing by itself with the text that stands there."""
        text = shown(raw if isinstance(raw, str) else _joined(raw))
        return [
            FieldError(
                field.key,
                text if part.given is None else part.given,
                f"{field.label}: {part.message}",
                part.row,
                part.column,
            )
            for part in refused.parts
        ]

    def filled(self, texts: Mapping[str, Raw]) -> dict[str, Raw]:
        """Return what each field is given: its raw text, or its default where it has none."""
        chosen = self._given_alternatives(texts)
        cleared = {
            key for group in self.alternatives if chosen and group not in chosen for key in group
        }
        return {
            field.key: texts.get(field.key, "" if field.key in cleared else field.default)
            for field in self.fields
        }

    def _given_alternatives(self, texts: Mapping[str, Raw]) -> list[tuple[str, ...]]:
        def is_given(key: str) -> bool:
            raw = texts.get(key, "")
            return not isinstance(raw, str) or bool(raw.strip(" "))

        return [group for group in self.alternatives if any(map(is_given, group))]

    def alternative_errors(
        self, texts: Mapping[str, Raw], values: Mapping[str, Value]
    ) -> list[FieldError]:
        """Return what is wrong with the alternatives: two given, none, or a part of one."""
        if not self.alternatives:
            return []
        ways = " or ".join(
            " with ".join(self.by_key[key].label.lower() for key in group)
            for group in self.alternatives
        )
        chosen = self._given_alternatives(texts)
        if len(chosen) > 1:
            keys = [key for group in chosen[1:] for key in group if key in texts]
            message = f"Enter only one of these: {ways}."
            return [self._error(key, texts[key], message) for key in keys]
        used = [
            group
            for group in self.alternatives
            if any(key not in values or values[key] is not None for key in group)
        ]
        if not used and self.none_is_allowed:
            return []
        if not used:
            return [self._error(self.alternatives[0][0], "", f"Nothing is entered. Enter {ways}.")]
        return [
            self._error(key, "", f"Nothing is entered. Enter {ways}.")
            for key in used[0]
            if key in values and values[key] is None
        ]

    def _error(self, key: str, raw: Raw, message: str) -> FieldError:
        text = raw if isinstance(raw, str) else _joined(raw)
        return FieldError(key, shown(text), f"{self.by_key[key].label}: {message}")

    def write(
        self, values: Mapping[str, Value], base: Mapping[str, str] | None = None
    ) -> dict[str, str]:
        """Return the texts of the values that differ from the defaults, in field order.

        base : texts that stand for the defaults

        A default that another alternative has cleared is not written, nor what is private.
        """
        empty = [group for group in self.alternatives if all(values[key] is None for key in group)]
        # With all of them empty, nothing has cleared the default: that must be written.
        is_cleared = len(empty) < len(self.alternatives)
        cleared = {key for group in empty for key in group if is_cleared}
        return {
            field.key: field.write(values[field.key])
            for field in self.fields
            if field.key not in cleared
            and not field.private
            and values[field.key] != field.read((base or {}).get(field.key, field.default))
        }


def _joined(rows: Sequence[Sequence[str]]) -> str:
    return ";".join(",".join(str(cell) for cell in row) for row in rows)
