"""Words by which columns and values of other people's lists are known, in several languages.

Common practice, no source: a guess that is shown and can be changed, never taken unseen.
"""

from collections.abc import Mapping
from types import MappingProxyType

# What a column is, by the words that may head it, as plain_heading() writes them.
_TEAM_WORDS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "team": ("team", "teamname", "nameoftheteam", "equipo", "nombredelequipo", "equipe",
                 "équipe", "mannschaft", "squadra", "groupname", "nombreequipo"),
        "division": ("division", "category", "categoría", "categoria", "división", "level",
                     "klasse", "wertung", "catégorie", "track", "competitioncategory", "nivel"),
        "athlete": ("athlete", "name", "fullname", "athletename", "nombre", "nombreyapellidos",
                    "atleta", "teilnehmer", "participant", "nom", "member", "competitor", "player",
                    "nombrecompleto", "vorundnachname"),
        "first name": ("firstname", "forename", "givenname", "nombredepila", "vorname", "prénom",
                       "prenom"),
        "last name": ("lastname", "surname", "familyname", "apellidos", "apellido", "nachname",
                      "nomdefamille"),
        "category": ("sex", "gender", "sexo", "género", "genero", "geschlecht", "sexe", "mf"),
        "place": ("place", "lineup", "position", "posición"),
        "reserve": ("reserve", "substitute", "sub", "reserva", "suplente", "ersatz", "remplaçant"),
        "entry rank": ("entryrank", "seed", "rank", "ranking"),
        "gym": ("gym", "club", "box", "gimnasio", "centro", "studio", "verein", "affiliate"),
        "say it": ("sayit", "pronunciation", "pronunciación", "aussprache"),
    }
)  # fmt: skip
_PERSON_WORDS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "e-mail": ("email", "mail", "emailaddress", "correo", "correoelectrónico", "correoelectronico",
                   "emailadresse", "courriel", "adresseemail"),
        "phone": ("phone", "telephone", "mobile", "cell", "phonenumber", "teléfono", "telefono",
                  "móvil", "movil", "telefon", "handy", "téléphone", "telephonenumber"),
        "birth date": ("birthdate", "dob", "dateofbirth", "born", "birthday", "fechadenacimiento",
                       "nacimiento", "geburtsdatum", "geboren", "datedenaissance"),
        "emergency contact": ("emergencycontact", "emergency", "ice", "contactodeemergencia",
                              "notfallkontakt", "contacturgence"),
        "guardian": ("guardian", "parent", "parentorguardian", "tutor", "erziehungsberechtigter"),
        "shirt": ("shirt", "shirtsize", "tshirt", "tshirtsize", "talla", "camiseta", "tallacamiseta",
                  "größe", "tshirtgröße", "taille", "size"),
        "ask again": ("askagain", "nextyear"),
    }
)  # fmt: skip
_CREW_WORDS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "name": ("name", "volunteer", "fullname", "nombre", "voluntario", "helfer", "nom",
                 "nombreyapellidos"),
        "first name": _TEAM_WORDS["first name"],
        "last name": _TEAM_WORDS["last name"],
        "posts": ("posts", "post", "cando", "roles", "role", "puesto", "puestos", "función",
                  "aufgabe", "rolle", "job", "task"),
        "competes in": ("competesin", "team", "ownteam", "equipo", "mannschaft"),
        "family in": ("familyin", "familyteam", "family", "familia"),
        "gym": _TEAM_WORDS["gym"],
        "experienced": ("experienced", "experience", "experiencia", "erfahrung", "judgedbefore"),
        "free from": ("freefrom", "from", "availablefrom", "desde", "ab", "von"),
        "free until": ("freeuntil", "until", "to", "availableuntil", "hasta", "bis"),
    }
)  # fmt: skip
_KIT_WORDS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "id": ("id", "kitid"),
        "name": ("name", "item", "what", "material", "artículo", "gerät", "equipment", "nombre"),
        "kind": ("kind", "type", "tipo", "art"),
        "count": ("count", "pieces", "number", "howmany", "quantity", "qty", "cantidad", "anzahl",
                  "unidades", "stück"),
        "mass": ("mass", "weight", "load", "peso", "gewicht", "kg", "poids"),
        "floor": ("floor", "where", "pista", "fläche"),
        "lender": ("lender", "borrowedfrom", "owner", "lentby", "prestadopor", "dueño",
                   "geliehenvon", "from"),
        "category": ("category", "for", "liftedby"),
        "due back": ("dueback", "backby", "returnby", "devolver", "zurückbis"),
    }
)  # fmt: skip

WORDS: Mapping[str, Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {
        "teams": MappingProxyType({**_TEAM_WORDS, **_PERSON_WORDS}),
        "crew": MappingProxyType({**_CREW_WORDS, **_PERSON_WORDS}),
        "kit": _KIT_WORDS,
    }
)
"""By kind of list: each column it may have, in the order offered, with the words that head it."""

OF_EACH_ATHLETE = frozenset({"athlete", "first name", "last name", "category", *_PERSON_WORDS})
"""Columns that stand once for each athlete where a row is a whole team."""

SEXES: tuple[frozenset[str], ...] = (
    frozenset(
        {"w", "f", "woman", "women", "female", "girl", "lady", "ladies", "mujer", "mujeres",
         "femenino", "femenina", "chica", "frau", "frauen", "weiblich", "damen", "femme", "femmes"}
    ),
    frozenset(
        {"m", "man", "men", "male", "boy", "hombre", "hombres", "masculino", "chico", "mann",
         "männer", "männlich", "herren", "homme", "hommes", "h"}
    ),
)  # fmt: skip
"""Words that mean the same of an athlete: women first, men second."""
