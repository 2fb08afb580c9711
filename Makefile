# Everything a developer runs. Each target does its own set-up; only Python 3.11 or newer has to
# be there (and, for the browser tests, Chromium or an apt-get to install it with).

PYTHON ?= python3
BIN := .venv/bin
INSTALLED := .venv/.installed

.PHONY: help install frontend demo test check format bench bench-quick chaos drill fuzz messages pictures handbook lock lowest clean

help:
	@echo 'make install      the callroom command, in .venv/bin'
	@echo 'make demo         a demo event, planned, printed, served and played'
	@echo 'make check        format, lint, types, layers'
	@echo 'make test         check, then every test'
	@echo 'make format       rewrite the Python files in the house format'
	@echo 'make drill        two browsers on bad links, and an hour without a network'
	@echo 'make chaos        a hundred days on bad links, with a server that is killed'
	@echo 'make fuzz         every address with whatever can be sent to it'
	@echo 'make bench        every benchmark, to bench/results.json (bench-quick: shorter)'
	@echo 'make frontend     browser assets, when their sources changed'
	@echo 'make messages     collect the texts for translators, in callroom.pot and each language'
	@echo 'make pictures     the pictures of the docs, anew from the demonstration'
	@echo 'make handbook     the pictures of the handbook, anew from the demonstration'
	@echo 'make lock         choose newer dependencies, at least a week old'
	@echo 'make lowest       the tests of plain code with the oldest dependencies allowed'

# ---- set-up ----------------------------------------------------------------------------------

install: $(INSTALLED) frontend

$(INSTALLED): requirements.lock pyproject.toml
	@$(PYTHON) -c 'import sys; sys.version_info >= (3, 11) or sys.exit("Callroom needs Python 3.11 or newer; this is " + sys.version.split()[0] + ". Name another with: make PYTHON=python3.12")'
	@$(PYTHON) -c 'import ensurepip, venv' 2>/dev/null || tools/apt_install.sh python3-venv
	test -x $(BIN)/python || $(PYTHON) -m venv .venv
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes --no-deps --requirement requirements.lock
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --no-deps --no-build-isolation --editable .
	@touch $@

frontend: $(INSTALLED)
	@$(BIN)/python tools/build_frontend.py
	@$(BIN)/python tools/catalogues.py

# ---- use -------------------------------------------------------------------------------------

demo: install
	$(BIN)/callroom demo

pictures: install
	$(BIN)/python tools/pictures.py

handbook: install
	$(BIN)/python tools/handbook_pictures.py

# ---- checks ----------------------------------------------------------------------------------

CHECKS := check-format check-lint check-types check-layers check-frontend check-messages check-audit
.PHONY: $(CHECKS)
check: $(CHECKS)

$(CHECKS): install

check-format:
	$(BIN)/ruff format --check --quiet --diff

check-lint:
	$(BIN)/ruff check

check-types:
	$(BIN)/mypy

check-layers:
	$(BIN)/lint-imports --no-logo

check-audit:
	@$(BIN)/python tools/audit.py

check-messages:
	$(BIN)/python tools/catalogues.py --check

check-frontend:
	$(BIN)/python tools/build_frontend.py --types

format: $(INSTALLED)
	$(BIN)/ruff check --fix-only --exit-zero
	$(BIN)/ruff format

test: install
	@command -v chromium >/dev/null || command -v google-chrome >/dev/null || test -n "$$CALLROOM_CHROMIUM" || tools/apt_install.sh chromium
	@command -v pdftoppm >/dev/null || tools/apt_install.sh poppler-utils
	@$(BIN)/python tools/build_frontend.py --test-modules
	@$(BIN)/python tools/run_tests.py

bench: install
	$(BIN)/python bench/run.py

bench-quick: install
	$(BIN)/python bench/run.py --quick

# A hundred days on bad links with a server that dies; a day of it is among the tests.
chaos: install
	$(BIN)/python bench/run.py bench_chaos

# Two real browsers on bad links, a server that is killed, an hour without network.
drill: install
	$(BIN)/python -m tests.chaos.drill

# Every address with whatever can be sent to it; a little of it is among the tests.
fuzz: install
	CALLROOM_EXAMPLES=thorough $(BIN)/python -m pytest -q -n 2 tests/fuzz

# ---- upkeep ----------------------------------------------------------------------------------

messages: $(INSTALLED)
	$(BIN)/python tools/catalogues.py --collect

# A release younger than a week may yet be withdrawn; the lock names files by hash, no place.
lock: $(INSTALLED)
	$(BIN)/uv pip compile --quiet --upgrade --universal --python-version 3.11 --group dev \
		--generate-hashes --no-header --no-annotate --no-emit-index-url \
		--exclude-newer '7 days' --output-file requirements.lock pyproject.toml
	$(BIN)/python tools/build_frontend.py --lock

# The lower bounds in pyproject.toml are a promise; this keeps it.
lowest: install
	$(BIN)/uv venv --quiet --clear --python $(BIN)/python .venv-lowest
	$(BIN)/uv pip install --quiet --python .venv-lowest/bin/python --resolution lowest-direct \
		--requirement pyproject.toml --group dev
	PYTHONPATH=src .venv-lowest/bin/python -m pytest -q -m 'not browser'

clean:
	rm -rf build dist node_modules src/callroom/web/static src/callroom/paper/fonts
	rm -rf .mypy_cache .ruff_cache .pytest_cache .import_linter_cache .hypothesis .venv-lowest
