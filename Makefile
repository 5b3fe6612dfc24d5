# make guide: the sample guide from nothing.  make test: set up and run every test.  make lint, make bench, make mutants: for developers.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
WORKERS ?= 2

.PHONY: guide test lint bench mutants clean

guide: $(VENV)/installed
	$(BIN)/guidebuild check sample_guide
	$(BIN)/guidebuild make sample_guide
	@echo "Open sample_guide/published/site/index.html in a browser."

test: $(VENV)/installed-test tests/browser/node_modules/.installed lint
	$(BIN)/python -m pytest -n $(WORKERS) --cov --cov-report=term:skip-covered

lint: $(VENV)/installed-test
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/vulture

bench: $(VENV)/installed-test
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --group bench
	$(BIN)/python -m tests.benchmarks

# make mutants: small slips put into the rooms that promise something, all of them; SAMPLE=200 so many a room, ROOM=identify one room.
mutants: $(VENV)/installed-test
	$(BIN)/python -m tests.mutants $(if $(ROOM),--room $(ROOM)) $(if $(SAMPLE),--sample $(SAMPLE)) $(if $(SEED),--seed $(SEED))

$(VENV)/bin/python:
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || { echo "guidebuild needs Python 3.11 or newer: try make PYTHON=python3.11" >&2; exit 2; }
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --upgrade "pip>=25.1"

$(VENV)/installed: pyproject.toml .ci/system-packages | $(VENV)/bin/python
	.ci/system-packages
	$(BIN)/python -m pip install --quiet --disable-pip-version-check -e .
	@touch $@

$(VENV)/installed-test: $(VENV)/installed
	.ci/system-packages test
	$(BIN)/python -m pip install --quiet --disable-pip-version-check -e . --group test --group lint
	@touch $@

tests/browser/node_modules/.installed: tests/browser/package.json
	cd tests/browser && npm install --silent --no-audit --no-fund --ignore-scripts
	@touch $@

clean:
	rm -rf $(VENV) .cache tests/browser/node_modules .coverage* .mypy_cache .ruff_cache .pytest_cache
