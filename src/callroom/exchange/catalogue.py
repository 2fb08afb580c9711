"""Every rule about files: what each says is worded in ``views.sentences.exchange``.

Every finding of these rules also carries the facts ``file``, ``row`` and ``column``; a row
of 0 or an empty column means that the fault has no such place.
"""

from callroom.model.catalogue import Catalogue

PLACE_FACTS = ("file", "row", "column")

RULES = Catalogue(
    # Any file.
    ("error", "file.too_large", "given most"),
    ("error", "file.empty", ""),
    ("error", "file.not_utf8", ""),
    ("error", "file.more_faults", "count"),
    # TOML as such.
    ("error", "toml.unreadable", "given detail"),
    ("error", "toml.twice", "given"),
    ("error", "toml.too_deep", ""),
    ("error", "toml.other_format", "key given known"),
    # Keys.
    ("error", "toml.key_missing", "key wanted"),
    ("error", "toml.key_unknown", "key given known"),
    ("error", "toml.key_unknown_near", "key given near"),
    ("error", "toml.belongs_in_part", "key given"),
    # Kinds of values.
    ("error", "toml.no_text", "key given"),
    ("error", "toml.text_empty", "key"),
    ("error", "toml.text_long", "key given length most"),
    ("error", "toml.text_unseen", "key given code"),
    ("error", "toml.no_texts", "key given"),
    ("error", "toml.no_whole", "key given"),
    ("error", "toml.no_wholes", "key given"),
    ("error", "toml.bounds", "key given least most"),
    ("error", "toml.no_number", "key given"),
    ("error", "toml.no_numbers", "key given most"),
    ("error", "toml.number_odd", "key given most"),
    ("error", "toml.no_flag", "key given"),
    ("error", "toml.no_table", "key given"),
    ("error", "toml.no_tables", "key given"),
    ("error", "toml.list_empty", "key"),
    ("error", "toml.choice", "key given choices"),
    ("error", "toml.choice_near", "key given near choices"),
    # Ids.
    ("error", "toml.id_form", "key given"),
    ("error", "toml.id_twice", "key given"),
    ("error", "toml.category_form", "key given"),
    ("error", "toml.division_is_category", "key given"),
    ("error", "toml.no_category", "key given known"),
    ("error", "toml.currency_form", "key given"),
    ("error", "toml.language_form", "key given"),
    ("error", "toml.team_large", "key most"),
    # Times.
    ("error", "toml.no_date", "key given"),
    ("error", "toml.no_clock", "key given"),
    ("error", "toml.clock_absent", "key given zone"),
    ("error", "toml.clock_doubled", "key given zone"),
    ("error", "toml.no_zone", "key given"),
    ("error", "toml.no_duration", "key given"),
    ("error", "toml.duration_long", "key given most"),
    ("error", "toml.duration_split", "key given"),
    # Workouts.
    ("error", "toml.worth", "key given"),
    ("error", "toml.rounds_and_open", "key"),
    ("error", "toml.amount_missing", "key"),
    ("error", "toml.amounts_many", "key given"),
    ("error", "toml.who", "key given known"),
    ("error", "toml.who_near", "key given near known"),
    ("error", "toml.no_load", "key given"),
    ("error", "toml.no_height", "key given"),
    ("error", "toml.load_for", "key given known"),
    ("error", "toml.load_for_near", "key given near known"),
    # Tables: the file as a whole.
    ("error", "table.not_text", ""),
    ("error", "table.old_workbook", ""),
    ("error", "table.no_workbook", ""),
    ("error", "table.workbook_large", "most"),
    ("error", "table.workbook_bomb", "most"),
    ("error", "table.rows_many", "given most"),
    ("error", "table.columns_many", "given most"),
    ("error", "table.quotes", ""),
    ("warning", "table.encoding_guessed", "encoding"),
    ("note", "table.sheet_chosen", "sheet count"),
    # Headings.
    ("error", "table.no_headings", "wanted"),
    ("error", "table.heading_missing", "wanted"),
    ("error", "table.heading_near", "given near"),
    ("warning", "table.heading_unused", "given"),
    ("error", "table.heading_twice", "given name other"),
    ("error", "table.no_rows", ""),
    # Cells.
    ("error", "table.cell_error", ""),
    ("error", "table.formula_without_value", ""),
    ("error", "table.merged", "until"),
    ("error", "table.cell_beyond", "given"),
    ("error", "table.cell_empty", "heading"),
    ("error", "table.text_unseen", "heading given code"),
    ("error", "table.text_long", "heading given length most"),
    ("error", "table.not_known", "heading given known"),
    ("error", "table.not_known_near", "heading given near known"),
    ("error", "table.no_whole", "heading given least most"),
    ("error", "table.no_flag", "heading given"),
    ("error", "table.no_date", "heading given"),
    ("error", "table.no_clock", "heading given"),
    ("error", "table.no_mass", "heading given"),
    ("error", "table.no_email", "heading given"),
    ("error", "table.no_place", "heading given"),
    ("error", "table.id_form", "heading given"),
    ("error", "table.id_twice", "heading given other_row"),
    ("error", "table.differs", "heading given other other_row"),
    ("error", "table.person_differs", "heading given other"),
    # Crew.
    ("error", "crew.post_unknown", "heading given known"),
    ("error", "crew.post_unknown_near", "heading given near known"),
    ("error", "crew.not_among_athletes", "heading given team"),
)
