"""A movement of the director's own as TOML text; ``standards`` reads it back."""

from decimal import Decimal
from typing import Any

import msgspec

from callroom.exchange.toml_text import TomlValue, toml_value
from callroom.model.movement import Movement


def write_movement(movement: Movement) -> str:
    """Return a ``[[movement]]`` table: what is as usual is left out, one line for each row.

    ``instead`` says that it stands in the place of the library's movement of that id, should
    there be one.
    """
    values = {"id": movement.id, "instead": True, **_told(movement)}
    return "[[movement]]\n" + "".join(
        f"{key} = {_rows(value) if _is_table_list(value) else toml_value(value)}\n"
        for key, value in values.items()
    )


def _told(thing: msgspec.Struct) -> dict[str, TomlValue]:
    tag = thing.__struct_config__
    told: dict[str, TomlValue] = {str(tag.tag_field): str(tag.tag)} if tag.tag is not None else {}
    for field in msgspec.structs.fields(thing):
        value = getattr(thing, field.name)
        if field.required or value != field.default:
            told[field.name] = _plain(value)
    return told


def _plain(value: Any) -> TomlValue:  # noqa: ANN401 - any field's value
    if isinstance(value, msgspec.Struct):
        return _told(value)
    if isinstance(value, tuple):
        return [_plain(one) for one in value]
    # As it is written, not as it is stored: 0.1, not its nearest binary fraction.
    plain: TomlValue = Decimal(str(value)) if isinstance(value, float) else value
    return plain


def _is_table_list(value: TomlValue) -> bool:
    return isinstance(value, list) and any(isinstance(one, dict) for one in value)


def _rows(value: Any) -> str:  # noqa: ANN401 - a list of tables
    lines = "".join(f"  {toml_value(one)},\n" for one in value)
    return f"[\n{lines}]"
