"""Everything a person can do, and who may do it.

Decides: from the state, the person and the request to journal entries or a refusal; roles
and rules are decided here, once.
Never does: parse a request, word a page, or write to a database: a port is passed in.
May import: every lower package except the stores inside ``journal``.
"""
