"""Sentences for books: opening, storing, copying, and what `verify` finds."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        # What is asked of a book.
        "journal.bad_name": N_(
            "{field} cannot be {given}: it needs one to two hundred visible characters."
        ),
        "journal.bad_time": N_("{field} cannot be {given}: that is no time."),
        "journal.bad_value": N_("{field} cannot be stored: {reason}."),
        "journal.too_long": N_(
            "{field} is too long: {given} bytes, at most {most}. Make the file smaller."
        ),
        "journal.data_unfit": N_("This {kind} cannot be stored: {reason}."),
        "journal.key_conflict": N_(
            "The device {device} sent something else under {key} before. What was sent first is "
            "kept; send the new one again as a new entry."
        ),
        "journal.not_stored": N_(
            "This was not saved: the disk refused it ({reason}). Make room on the disk, then send "
            "it again; nothing is stored twice."
        ),
        "journal.closed": N_("The book has been closed. Open it again, then send this again."),
        # Opening a book.
        "journal.book_missing": N_(
            "There is no book {path}. Look at its name, or make one with: callroom new {path}"
        ),
        "journal.file_in_the_way": N_(
            "There is a file {path} already, and it is not overwritten. Choose another name."
        ),
        "journal.not_a_book": N_("{path} is not a Callroom book."),
        "journal.in_use": N_(
            "The book {path} is open in another Callroom (port {port}). Use that one, or close it."
        ),
        "journal.unsafe_folder": N_(
            "{path} is in “{folder}”, which is shared ({why}) and would damage a running book. "
            "Keep the book in a folder of this machine alone, such as Callroom in your home "
            "folder, and put backups into the shared one with: callroom backup"
        ),
        "journal.damaged": N_(
            "The book {path} is damaged ({reason}). Go on with the latest backup; "
            "“callroom verify” says what can still be read."
        ),
        "journal.not_written": N_(
            "{path} could not be written ({reason}). Nothing was left there."
        ),
        "journal.bad_address": N_(
            "{given} is not where a book can be. Write postgresql://USER@HOST/DATABASE/BOOK; the "
            "book is called by small letters, digits, hyphens and underscores."
        ),
        "journal.database_fault": N_(
            "The database of {place} did not do it: {reason}. Look whether its server runs and "
            "lets you in; what was stored before is kept there."
        ),
        "journal.no_driver": N_(
            "For a book in PostgreSQL its driver is missing. Install: pip install "
            "callroom[postgres]"
        ),
        "journal.file_only": N_(
            "{place} is in a database; this needs a book in a file of this machine. Copy it into "
            "one with: callroom backup --database URL FILE"
        ),
        # Open for reading only.
        "journal.asked_read_only": N_(
            "{path} was opened for looking only, so nothing was stored. Open it for writing."
        ),
        "journal.book_newer": N_(
            "{path} was made by a newer Callroom (layout {found}; this one knows {known}), so it "
            "can only be read here. Install the newer version to go on with it."
        ),
        "journal.book_older": N_(
            "{path} was made by an older Callroom (layout {found}, now {known}). Open it once for "
            "writing: it is then kept as it is under another name, and brought up to date."
        ),
        "journal.kind_unknown": N_(
            "Entry {seq} is of a kind this version does not know ({kind}, version {version}). The "
            "book can only be read, as it stood before it. Install the newer Callroom."
        ),
        "journal.version_newer": N_(
            "Entry {seq} ({kind}) was written by a newer Callroom (version {version}, here "
            "{known}). The book can only be read, as it stood before it. Install that one."
        ),
        "journal.data_bad": N_(
            "Entry {seq} ({kind}, version {version}) cannot be read: {reason}. The book can only "
            "be read, as it stood before it. Go on with a backup."
        ),
        "journal.unfoldable": N_(
            "Entry {seq} ({kind}) defeats this version of Callroom ({reason}). The book can only "
            "be read, as it stood before it. Please report this."
        ),
        # What `verify` finds.
        "journal.pages_damaged": N_(
            "The file is damaged: {reason}. Go on with the latest backup that is sound."
        ),
        "journal.ends_early": N_(
            "The journal in {path} breaks off here ({reason}); what comes after cannot be read. "
            "Go on with the latest backup that is sound."
        ),
        "journal.order_broken": N_("Entry {seq} comes after entry {before}; the order is broken."),
        "journal.time_absurd": N_(
            "This entry was received at an impossible time ({at_ms} after 1970). The clock of the "
            "machine was wrong, or the book was changed."
        ),
        "journal.clock_put_back": N_(
            "The machine's clock was put back by {back_ms} before this entry. Nothing is ordered "
            "by it."
        ),
        "journal.key_twice": N_(
            "Part {part} of {key} from {device} is stored twice (expected: {expected})."
        ),
        "journal.part_missing": N_(
            "Of {key} from {device} part {expected} should be here, but part {part} is."
        ),
        "journal.request_torn": N_(
            "Part {part} of {key} from {device} was not stored together with the part before it."
        ),
        "journal.seal_broken": N_(
            "The entries {first} to {last} do not agree with their seal: they were changed, or "
            "damaged, after they were stored. Compare with a backup."
        ),
        "journal.unsealed": N_("The last {count} entries have no seal."),
        "journal.tampered": N_(
            "The printed sheet says {printed} for entry {seq}, this book {found}. Either the seal "
            "was typed wrongly, or the book was changed after the sheet was printed."
        ),
        "journal.tampered_missing": N_(
            "The printed sheet names entry {seq} with the seal {printed}, but this book has no "
            "seal there. It is another book, or it was changed after the sheet was printed."
        ),
        "journal.row_bad": N_("Row {row} of the file ({table}) cannot be read: {reason}."),
    }
)
