"""The treasurer's pages: what they are given, and how what is typed on them is read.

Decides: which fields a form has, and which fault belongs to what was typed.
Never does: work out a sum; that is done in ``views`` from the account book.
May import: what every page may.
"""
