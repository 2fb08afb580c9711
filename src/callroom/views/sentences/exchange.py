"""What is wrong with a file that was handed in. The place is put before the sentence."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        # Any file.
        "file.too_large": N_(
            "The file has {given} bytes; at most {most} are read. Check that it is the right one."
        ),
        "file.empty": N_("The file is empty. Save it again, or choose another one."),
        "file.not_utf8": N_(
            "The text is not saved as UTF-8. In your editor choose UTF-8 as the encoding and save"
            " the file again."
        ),
        "file.more_faults": N_(
            "There are {count} more faults. Mend those listed first, or check that this is the"
            " right file."
        ),
        # TOML as such.
        "toml.unreadable": N_(
            'From "{given}" on the file cannot be read ({detail}). Look for a missing quotation'
            ' mark, bracket or "=" here or in the line above.'
        ),
        "toml.twice": N_(
            'The key or table at "{given}" is given a second time. Keep one of the two.'
        ),
        "toml.too_deep": N_(
            "Lists or tables stand inside each other too deep. No event needs that: remove the"
            " superfluous brackets."
        ),
        "toml.other_format": N_(
            'The file says "format = {given}"; this version of Callroom reads format {known}.'
            " Use a newer Callroom, or write the file in that format."
        ),
        # Keys.
        "toml.key_missing": N_('"{wanted}" is missing. Add it.'),
        "toml.key_unknown": N_('"{given}" is not known here. Remove it, or use one of: {known}.'),
        "toml.key_unknown_near": N_('"{given}" is not known here. Did you mean "{near}"?'),
        "toml.belongs_in_part": N_(
            'This workout has parts, so "{given}" belongs in one of them. Move it there.'
        ),
        # Kinds of values.
        "toml.no_text": N_('"{key}" is {given}. Write a text between quotation marks.'),
        "toml.text_empty": N_('"{key}" is an empty text. Write something, or leave the key out.'),
        "toml.text_long": N_(
            '"{key}" has {length} characters ("{given}"). Shorten it to at most {most}.'
        ),
        "toml.text_unseen": N_(
            '"{key}" holds a character that is not seen ({code}): "{given}". Type the text anew.'
        ),
        "toml.no_texts": N_('"{key}" is {given}. Write a list of texts: ["main", "yard"].'),
        "toml.no_whole": N_('"{key}" is {given}. Write a whole number without quotation marks.'),
        "toml.no_wholes": N_('"{key}" is {given}. Write a list of whole numbers: [1, 2].'),
        "toml.bounds": N_('"{key}" is {given}. Write a number from {least} to {most}.'),
        "toml.no_number": N_('"{key}" is {given}. Write a number without quotation marks.'),
        "toml.no_numbers": N_(
            '"{key}" is {given}. Write a list of at most {most} numbers: [100, 94, 88].'
        ),
        "toml.number_odd": N_(
            '"{key}" is {given}. Write a number of at most 16 digits, no larger than {most}.'
        ),
        "toml.no_flag": N_('"{key}" is {given}. Write true or false, without quotation marks.'),
        "toml.no_table": N_(
            '"{key}" is {given}, but holds keys of its own. Write it as a table: a line'
            " [{key}] with its keys below it."
        ),
        "toml.no_tables": N_(
            '"{key}" is {given}, but is a list of tables. Write a line [[{key}]] for each, with'
            " its keys below it."
        ),
        "toml.list_empty": N_('"{key}" is an empty list. Put something in, or leave it out.'),
        "toml.choice": N_('"{key}" is "{given}". Write one of: {choices}.'),
        "toml.choice_near": N_(
            '"{key}" is "{given}". Did you mean "{near}"? Possible are: {choices}.'
        ),
        # Ids.
        "toml.id_form": N_(
            'The id "{given}" cannot be used. Use up to 40 letters, digits, hyphens and'
            " underscores, beginning with a letter or digit."
        ),
        "toml.id_twice": N_(
            'The id "{given}" is given twice in this part. Give one of the two another id.'
        ),
        "toml.category_form": N_(
            'A category cannot be called "{given}". Use small letters, digits, hyphens and'
            ' underscores, and none of "all", "anyone", "everyone", "pair".'
        ),
        "toml.movement_rule": N_(
            '"{given}" in "{key}" names no movement or variation. Write "bar_muscle_up" to bar a'
            ' movement, "box_jump.step_up" to allow or bar one of its variations.'
        ),
        "toml.division_is_category": N_(
            'The division "{given}" has the name of a category, or "all". Give it another one, as'
            " loads are listed by either."
        ),
        "toml.no_category": N_(
            'There is no category "{given}". Use one of: {known}; or add it under [categories].'
        ),
        "toml.currency_form": N_(
            '"{given}" is no currency. Write its three letters: "EUR", "GBP", "USD".'
        ),
        "toml.language_form": N_('"{given}" is no language. Write its letters: "en", "pt-BR".'),
        "toml.team_large": N_(
            "A team has more than {most} athletes with its reserves. Places are single letters,"
            " so make it smaller."
        ),
        # Times.
        "toml.no_date": N_('"{key}" is {given}. Write the day as year-month-day: 2027-05-15.'),
        "toml.day_far": N_('"{key}" is {given}. Write a day between the years {least} and {most}.'),
        "toml.no_clock": N_(
            '"{key}" is "{given}". Write a time of day: "09:30"; or a day and a time:'
            " 2027-05-14 18:00:00."
        ),
        "toml.clock_absent": N_(
            '"{key}" is {given}, but in {zone} the clocks are put forward over that time. Choose'
            " another."
        ),
        "toml.clock_doubled": N_(
            '"{key}" is {given}, but in {zone} the clocks are put back over that time, so it'
            " exists twice. Choose another, or give the time in UTC: 2027-10-31 01:30:00Z."
        ),
        "toml.no_zone": N_(
            'The time zone "{given}" is not known. Write a region and a city: "Europe/Berlin".'
        ),
        "toml.no_duration": N_(
            '"{key}" is "{given}". Write a length of time: "12:00" for twelve minutes, "45 s",'
            ' "1 h 30 min".'
        ),
        "toml.duration_long": N_('"{key}" is "{given}". Write at most {most}.'),
        "toml.duration_split": N_('"{key}" is "{given}". Write whole seconds.'),
        # Workouts.
        "toml.worth": N_(
            '"{key}" is "{given}". Write "full", "half", or a number of per cent from 1 to 100.'
        ),
        "toml.rounds_and_open": N_(
            "The block is open ended and has a number of rounds. Keep one of the two."
        ),
        "toml.amount_missing": N_(
            "The task has no amount. Add one of: reps, metres, calories, seconds; or tries, for a"
            " lift."
        ),
        "toml.amounts_many": N_("The task has several amounts ({given}). Keep one of them."),
        "toml.who": N_(
            '"{given}" does not say who. Write one of: {known}; or places of the line-up: "A, B".'
        ),
        "toml.who_near": N_('"{given}" does not say who. Did you mean "{near}"?'),
        "toml.no_load": N_(
            '"{key}" is "{given}". Write a load as published: "43 kg / 95 lb", "60 kg", or'
            ' "2 x 15 kg / 35 lb" where an athlete holds two.'
        ),
        "toml.no_height": N_(
            '"{key}" is "{given}". Write a height as published: "60 cm / 24 in", "3 m / 10 ft".'
        ),
        "toml.load_for": N_('"{given}" is neither a division nor a category. Use one of: {known}.'),
        "toml.load_for_near": N_(
            '"{given}" is neither a division nor a category. Did you mean "{near}"?'
        ),
        # Tables: the file as a whole.
        "table.not_text": N_(
            "This is no table: neither text nor a workbook. Save it as CSV (UTF-8) or .xlsx."
        ),
        "table.old_workbook": N_(
            "The workbook is in an old form, or has a password. Save it as .xlsx without one."
        ),
        "table.no_workbook": N_(
            "The workbook is damaged, or no .xlsx file. Open it in a spreadsheet program and save"
            " it as .xlsx or CSV."
        ),
        "table.workbook_large": N_(
            "The workbook has more than {most} parts. Copy the list into a new workbook."
        ),
        "table.workbook_bomb": N_(
            "Unpacked, the workbook has more than {most} bytes. Copy the list into a new workbook."
        ),
        "table.rows_many": N_(
            "The table reaches down to row {given}; at most {most} are read. Delete the rows that"
            " are not part of the list."
        ),
        "table.columns_many": N_(
            "The table has {given} columns; at most {most} are read. Delete the columns that are"
            " not part of the list."
        ),
        "table.quotes": N_(
            "A quotation mark is never closed, or stands where none may stand. Put the whole cell"
            ' in quotation marks and write each one inside it twice: "".'
        ),
        "table.encoding_guessed": N_(
            "The file is not saved as UTF-8 and was read as {encoding}. Check names with accents,"
            " or save it as UTF-8."
        ),
        "table.sheet_chosen": N_(
            'The workbook has {count} sheets; "{sheet}" was read. To read another, give it the'
            " name of the list: teams, crew or kit."
        ),
        # Headings.
        "table.no_headings": N_(
            "There is no row of headings. Put one above the list with at least: {wanted}."
        ),
        "table.heading_missing": N_('The column "{wanted}" is missing. Add it.'),
        "table.heading_near": N_('The heading "{given}" is not known. Did you mean "{near}"?'),
        "table.heading_unused": N_(
            'The column "{given}" is not known and was not read. That is fine if it is for'
            " yourself."
        ),
        "table.heading_twice": N_(
            'The heading "{given}" says "{name}", as column {other} does. Keep one of the two.'
        ),
        "table.no_rows": N_("There is nothing below the headings. Fill in the list."),
        # Cells.
        "table.cell_error": N_(
            "The cell shows an error of the spreadsheet program. Type what should stand there."
        ),
        "table.formula_without_value": N_(
            "The cell has a formula whose value was not saved. Type the value, or open the file in"
            " a spreadsheet program and save it."
        ),
        "table.merged": N_(
            "The cells from here to {until} are merged, so it is not clear which one means what."
            " Unmerge them and fill in each."
        ),
        "table.cell_beyond": N_(
            '"{given}" stands to the right of the last heading. If a cell has a comma in it, put'
            " the cell in quotation marks."
        ),
        "table.cell_empty": N_('"{heading}" is empty. Fill it in.'),
        "table.text_unseen": N_(
            '"{heading}" holds a character that is not seen ({code}): "{given}". Type it anew.'
        ),
        "table.text_long": N_(
            '"{heading}" has {length} characters ("{given}"). Shorten it to at most {most}.'
        ),
        "table.not_known": N_('"{heading}" is "{given}". Write one of: {known}.'),
        "table.not_known_near": N_(
            '"{heading}" is "{given}". Did you mean "{near}"? Possible are: {known}.'
        ),
        "table.no_whole": N_(
            '"{heading}" is "{given}". Write a whole number from {least} to {most}.'
        ),
        "table.no_flag": N_('"{heading}" is "{given}". Write yes or no, or leave it empty.'),
        "table.no_date": N_(
            '"{heading}" is "{given}". Write the day as year-month-day: 1990-04-30.'
        ),
        "table.no_clock": N_('"{heading}" is "{given}". Write a time of day: 09:30.'),
        "table.no_mass": N_('"{heading}" is "{given}". Write one mass: 20 kg, or 45 lb.'),
        "table.no_email": N_(
            '"{heading}" is "{given}". Write one e-mail address, or leave it empty.'
        ),
        "table.no_place": N_('"{heading}" is "{given}". Write one letter: A, B, C ….'),
        "table.id_form": N_(
            '"{heading}" is "{given}". Use up to 40 letters, digits, hyphens and underscores,'
            " beginning with a letter or digit."
        ),
        "table.id_twice": N_(
            '"{heading}" is "{given}", as in row {other_row}. Give one of the two another.'
        ),
        "table.differs": N_(
            '"{heading}" is "{given}", but row {other_row} of the same team says "{other}". Make'
            " them the same, or leave one empty."
        ),
        "table.person_differs": N_(
            '"{heading}" is "{given}", which is the id of {other} further up. Give each person'
            " their own, or leave it empty."
        ),
        # Crew.
        "crew.post_unknown": N_('There is no post "{given}". Use one of: {known}.'),
        "crew.post_unknown_near": N_(
            'There is no post "{given}". Did you mean "{near}"? Possible are: {known}.'
        ),
        "crew.not_among_athletes": N_(
            '"{given}" is not among the athletes of {team}. Write the name as it stands there, or'
            ' leave "competes in" empty.'
        ),
        # Dumps of a book.
        "dump.no_json": N_(
            "From here on this is no JSON. The file may have been cut off or edited: take another"
            " copy of the dump."
        ),
        "dump.key_twice": N_(
            'This record has "{given}" twice. The file was edited: take another copy of the dump.'
        ),
        "dump.no_dump": N_(
            'This is no dump of a book: the first record is not a "{name}". Choose the file that'
            " was made by an export."
        ),
        "dump.other_version": N_(
            "The dump has version {given}; this version of Callroom reads version {known}. Use the"
            " Callroom it was made with, or a newer one."
        ),
        "dump.not_whole": N_(
            "The last record is missing, so the dump is not whole. Take another copy of it."
        ),
        "dump.rows_missing": N_(
            "The dump says that it has {given} rows, but {found} are there. Take another copy of"
            " it."
        ),
        "dump.no_row": N_(
            "This record is no row of a book: {given}. Take another copy of the dump."
        ),
        "dump.value_odd": N_(
            '"{field}" in this record is neither a text nor a whole number. Take another copy of'
            " the dump."
        ),
    }
)
