import ast

import pytest

from build_frontend import PACKAGE

PACKAGES = sorted(path.parent for path in PACKAGE.glob("*/__init__.py"))


def test_the_packages_are_found() -> None:
    assert len(PACKAGES) == 15


@pytest.mark.parametrize("package", PACKAGES, ids=lambda path: path.name)
def test_package_opens_with_what_it_decides_and_may_import(package: object) -> None:
    source = (PACKAGE / str(package) / "__init__.py").read_text(encoding="utf-8")
    docstring = ast.get_docstring(ast.parse(source)) or ""
    missing = [word for word in ("Decides:", "Never does:", "May import:") if word not in docstring]
    assert missing == []
