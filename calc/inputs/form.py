"""The fields of one calculator, read together: all errors at once, and alternatives."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field

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
    by_key: Mapping[str, Field] = field(init=False)

    def __post_init__(self) -> None:
        keys = {one.key: one for one in self.fields}
        if len(keys) != len(self.fields):
            raise ValueError("two fields share a key")
        object.__setattr__(self, "by_key", keys)

    def read(
        self, given: Mapping[str, Raw], earlier: Iterable[FieldError] = ()
    ) -> dict[str, Value]:
        """Return every field's value; what is not given takes its default.

        earlier : what was found wrong before the fields were looked at, told with the rest

        Raises `InputError` with one entry for each wrong or unknown field.
        """
        unknown = [key for key in given if key not in self.by_key]
        errors = [*earlier]
        errors += [
            FieldError(
                shown(key),
                shown(given[key]),
                f"There is no field ‘{shown(key)}’. The fields are {', '.join(self.by_key)}.",
            )
            for key in unknown[:MOST_ERRORS]
        ]
        more = len(unknown[MOST_ERRORS:])
        values = {}
        for one, raw in zip(self.fields, self.filled(given).values(), strict=True):
            try:
                values[one.key] = one.read(raw)
            except Refused as refused:
                errors += self._parts(one, raw, refused)
                more += refused.more
        errors += self.alternative_errors(given, values)
        errors += self.check(values)
        if errors:
            raise InputError(errors, more)
        return values

    def _parts(self, one: Field, raw: Raw, refused: Refused) -> list[FieldError]:
        """Return what a field refuses, each thing by itself with the text that stands there."""
        text = shown(raw if isinstance(raw, str) else _joined(raw))
        return [
            FieldError(
                one.key,
                text if part.given is None else part.given,
                f"{one.label}: {part.message}",
                part.row,
                part.column,
            )
            for part in refused.parts
        ]

    def filled(self, given: Mapping[str, Raw]) -> dict[str, Raw]:
        """Return what each field is given: its raw text, or its default where it has none."""
        chosen = self._given_alternatives(given)
        cleared = {
            key for group in self.alternatives if chosen and group not in chosen for key in group
        }
        return {
            one.key: given.get(one.key, "" if one.key in cleared else one.default)
            for one in self.fields
        }

    def _given_alternatives(self, given: Mapping[str, Raw]) -> list[tuple[str, ...]]:
        def is_given(key: str) -> bool:
            raw = given.get(key, "")
            return not isinstance(raw, str) or bool(raw.strip(" "))

        return [group for group in self.alternatives if any(map(is_given, group))]

    def alternative_errors(
        self, given: Mapping[str, Raw], values: Mapping[str, Value]
    ) -> list[FieldError]:
        """Return what is wrong with the alternatives: two given, none, or a part of one."""
        if not self.alternatives:
            return []
        ways = " or ".join(
            " with ".join(self.by_key[key].label.lower() for key in group)
            for group in self.alternatives
        )
        chosen = self._given_alternatives(given)
        if len(chosen) > 1:
            keys = [key for group in chosen[1:] for key in group if key in given]
            message = f"Give only one of these: {ways}."
            return [self._error(key, given[key], message) for key in keys]
        used = [
            group
            for group in self.alternatives
            if any(key not in values or values[key] is not None for key in group)
        ]
        if not used and self.none_is_allowed:
            return []
        if not used:
            return [self._error(self.alternatives[0][0], "", f"Nothing is given. Give {ways}.")]
        return [
            self._error(key, "", f"Nothing is given. Give {ways}.")
            for key in used[0]
            if key in values and values[key] is None
        ]

    def _error(self, key: str, raw: Raw, message: str) -> FieldError:
        text = raw if isinstance(raw, str) else _joined(raw)
        return FieldError(key, shown(text), f"{self.by_key[key].label}: {message}")

    def write(self, values: Mapping[str, Value]) -> dict[str, str]:
        """Return the texts of the values that differ from the defaults, in field order.

        A default that another alternative has cleared is not written, nor what is private.
        """
        empty = [group for group in self.alternatives if all(values[key] is None for key in group)]
        # With all of them empty, nothing has cleared the default: that must be written.
        is_cleared = len(empty) < len(self.alternatives)
        cleared = {key for group in empty for key in group if is_cleared}
        return {
            one.key: one.write(values[one.key])
            for one in self.fields
            if one.key not in cleared
            and not one.private
            and values[one.key] != one.read(one.default)
        }


def _joined(rows: Sequence[Sequence[str]]) -> str:
    return ";".join(",".join(str(cell) for cell in row) for row in rows)
