"""Every rule about a movement file: what each says is worded in ``views.sentences.standards``.

Every finding also carries the fact ``file``, and ``key``: the place in it as a path, such as
``movement "box_jump", no_reps 2, label``.
"""

from callroom.model.catalogue import Catalogue

PLACE_FACTS = ("file", "key")

RULES = Catalogue(
    # The file as such.
    ("error", "standards.cannot_open", "detail"),
    ("error", "standards.too_large", "most_kb"),
    ("error", "standards.not_toml", "detail"),
    # Keys and values.
    ("error", "standards.key_missing", ""),
    ("error", "standards.key_unknown", "near known"),
    ("error", "standards.no_table", "given"),
    ("error", "standards.no_list", "given"),
    ("error", "standards.wrong_kind", "given wanted"),
    ("error", "standards.no_such_choice", "given near choices"),
    ("error", "standards.text_empty", ""),
    ("error", "standards.text_long", "given length most"),
    ("error", "standards.list_empty", ""),
    ("error", "standards.number_bounds", "given least most"),
    # What fits together.
    ("error", "standards.id_form", "given"),
    ("error", "standards.id_twice", "given"),
    ("error", "standards.id_taken", "given"),
    ("error", "standards.nothing_to_change", "given near"),
    ("error", "standards.no_such_stage", "given stages"),
    ("error", "standards.no_such_pose", "given near"),
    ("error", "standards.no_such_variation", "given variations"),
    ("error", "standards.reading_unfit", "joint reads"),
    ("error", "standards.no_bound", ""),
    ("error", "standards.bounds_crossed", "least most"),
    ("warning", "standards.measure_unmet", "stage says"),
    ("warning", "standards.landmark_not_shown", "stage landmark"),
    # Asking the library.
    ("error", "standards.no_such_movement", "given near"),
)
