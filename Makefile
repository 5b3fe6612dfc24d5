# make guide: the sample guide from nothing.  make test: set up and run every test.
# make lint, make bench, make mutants, make lock, make sbom, make test-newest: for developers.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
WORKERS ?= 2

.PHONY: guide test lint bench mutants lock sbom test-newest clean

guide: $(VENV)/installed
	$(BIN)/guidebuild check sample_guide
	$(BIN)/guidebuild make sample_guide

test: $(VENV)/installed-test tests/browser/node_modules/.installed lint
	$(BIN)/python -m pytest -n $(WORKERS) --cov --cov-report=term:skip-covered

lint: $(VENV)/installed-test
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/vulture

bench: $(VENV)/installed-test tests/benchmarks/node_modules/.installed
	$(INSTALL) -r .ci/bench.lock
	$(BIN)/python -m tests.benchmarks

# make mutants: small slips put into the rooms that promise something, all of them; SAMPLE=200 so many a room, ROOM=identify one room.
mutants: $(VENV)/installed-test
	$(BIN)/python -m tests.mutants $(if $(ROOM),--room $(ROOM)) $(if $(SAMPLE),--sample $(SAMPLE)) $(if $(SEED),--seed $(SEED))

# What is installed is listed with versions and digests under .ci/: pip takes nothing else. The tool itself is linked in, not built.
INSTALL = $(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes
LINK_IN = $(BIN)/python -m pip install --quiet --disable-pip-version-check --no-deps --no-build-isolation -e .

$(VENV)/bin/python:
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || { echo "guidebuild needs Python 3.11 or newer: try make PYTHON=python3.11" >&2; exit 2; }
	$(PYTHON) -m venv $(VENV)

$(VENV)/installed: pyproject.toml .ci/guide.lock .ci/system-packages | $(VENV)/bin/python
	.ci/system-packages
	$(INSTALL) -r .ci/guide.lock
	$(LINK_IN)
	@touch $@

$(VENV)/installed-test: $(VENV)/installed .ci/test.lock
	.ci/system-packages test
	$(INSTALL) -r .ci/test.lock
	@touch $@

# make lock: the lists anew, with the newest versions that pyproject.toml allows; UPGRADE= keeps the versions they have.
UPGRADE = --upgrade
COMPILE = $(BIN)/uv pip compile --quiet --universal --python-version 3.11.5 --generate-hashes --no-header --no-emit-index-url --no-emit-find-links --no-annotate $(UPGRADE) pyproject.toml

lock: | $(VENV)/bin/python
	$(BIN)/python -m pip install --quiet --disable-pip-version-check uv
	$(COMPILE) --group build -o .ci/guide.lock
	$(COMPILE) --group build --group test --group lint -c .ci/guide.lock -o .ci/test.lock
	$(COMPILE) --group build --group test --group lint --group bench -c .ci/test.lock -o .ci/bench.lock

# make sbom: the parts of the tool without its tests, as CycloneDX, in dist/sbom.json.
PARTS := .cache/parts
sbom: $(VENV)/installed-test
	$(PYTHON) -m venv --clear $(PARTS)
	$(PARTS)/bin/python -m pip install --quiet --disable-pip-version-check --require-hashes -r .ci/guide.lock
	@mkdir -p dist
	$(BIN)/cyclonedx-py environment --pyproject pyproject.toml --mc-type application --output-reproducible --of JSON -o dist/sbom.json $(PARTS)/bin/python

# make test-newest: every test with the newest versions, in an environment of its own; once a week tells what the lists will meet.
NEWEST := .cache/newest
test-newest:
	$(PYTHON) -m venv --clear $(NEWEST)
	$(NEWEST)/bin/python -m pip install --quiet --disable-pip-version-check --upgrade "pip>=25.1"
	$(NEWEST)/bin/python -m pip install --quiet --disable-pip-version-check -e . --group test --group lint
	.ci/system-packages test
	$(NEWEST)/bin/python -m pytest -n $(WORKERS) --ignore tests/test_supply.py

tests/browser/node_modules/.installed: tests/browser/package.json
	cd tests/browser && npm install --silent --no-audit --no-fund --ignore-scripts
	@touch $@

# Without npm the other benchmarks run all the same.
tests/benchmarks/node_modules/.installed: tests/benchmarks/package.json
	@mkdir -p $(@D)
	-cd tests/benchmarks && npm install --silent --no-audit --no-fund --ignore-scripts
	@touch $@

clean:
	rm -rf $(VENV) .cache tests/browser/node_modules tests/benchmarks/node_modules .coverage* .mypy_cache .ruff_cache .pytest_cache
