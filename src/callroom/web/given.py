"""What handlers are given besides the request: named so that they read as what they are."""

from typing import TypeAlias

from litestar.di import NamedDependency

from callroom.web.forms.posted import Posted
from callroom.web.house import House
from callroom.web.visitor import Visitor

InHouse: TypeAlias = NamedDependency[House]
ByVisitor: TypeAlias = NamedDependency[Visitor]
PostedForm: TypeAlias = NamedDependency[Posted]
