# make demo: sets up, builds, runs the whole job on the demo engine.
# make test: sets up and passes the tests.

SHELL := /bin/bash
.SHELLFLAGS := -eu -o pipefail -c
.DEFAULT_GOAL := help
DUCKDB := 2.0.1
.PHONY: help setup setup-tests demo test accuracy lint

help: ## this list
	@grep -E '^[a-z-]+:.*##' $(MAKEFILE_LIST) | sed 's/:.*## /\t/' | expand -t 12

# Debian's headers of the sound library; macOS and Windows need only cargo.
setup: ## installs what the build needs where it lacks (Debian packages, with sudo where you are not root)
	@if command -v apt-get >/dev/null && ! pkg-config --exists alsa 2>/dev/null; then \
		sudo=$$([ "$$(id -u)" = 0 ] || echo sudo); \
		echo "installing Debian's libasound2-dev and pkg-config $${sudo:+with sudo}" >&2; \
		$$sudo apt-get update -qq && $$sudo env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq libasound2-dev pkg-config >/dev/null; \
	fi

# A clock that jumps (libfaketime). A sound server, its tools and ALSA's way to it, for the virtual microphones; python3 paces one of them.
# A browser and readers of PDF, for the report. DuckDB, which reads the tables of a history, in a folder of its own.
setup-tests: setup ## installs what the tests need besides (Debian packages, with sudo where you are not root)
	@if command -v apt-get >/dev/null; then \
		lacking=$$(dpkg-query -W -f '$${Status} $${Package}\n' pulseaudio pulseaudio-utils libasound2-plugins libfaketime python3 python3-venv chromium poppler-utils qpdf 2>/dev/null \
			| awk '$$3 == "installed" {print $$4}' | sort \
			| comm -13 - <(printf '%s\n' chromium libasound2-plugins libfaketime poppler-utils pulseaudio pulseaudio-utils python3 python3-venv qpdf)); \
		if [ -n "$$lacking" ]; then \
			sudo=$$([ "$$(id -u)" = 0 ] || echo sudo); \
			echo "installing Debian's" $$lacking "$${sudo:+with sudo}" >&2; \
			$$sudo apt-get update -qq && $$sudo env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $$lacking >/dev/null; \
		fi; \
	fi
	@if ! target/test-python/bin/python -c 'import duckdb; assert duckdb.__version__ == "$(DUCKDB)"' 2>/dev/null; then \
		echo "installing duckdb $(DUCKDB) for Python into target/test-python" >&2; \
		python3 -m venv target/test-python && target/test-python/bin/pip install --quiet --disable-pip-version-check duckdb==$(DUCKDB); \
	fi

demo: setup ## the whole job on the demo engine
	cargo run --release --locked -- demo

test: setup-tests ## every test
	cargo test --locked

# More: cargo bench --bench accuracy -- --where tuning --by-noise --cases 60
accuracy: setup ## how often the ranking is right, in noises that nothing was tuned on; table and picture in target/accuracy
	cargo bench --locked --bench accuracy -- --where reporting --by-noise

lint: setup ## format and lints
	cargo fmt --all --check
	cargo clippy --locked --all-targets -- -D warnings
