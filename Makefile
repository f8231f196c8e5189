# make demo: sets up, builds, runs the whole job on the demo engine.
# make test: sets up and passes the tests.

SHELL := /bin/bash
.SHELLFLAGS := -eu -o pipefail -c
.DEFAULT_GOAL := help
.PHONY: help setup demo test lint

help: ## this list
	@grep -E '^[a-z-]+:.*##' $(MAKEFILE_LIST) | sed 's/:.*## /\t/' | expand -t 12

# Debian's headers of the sound library; macOS and Windows need only cargo.
setup: ## installs what the build needs where it lacks (Debian packages, with sudo where you are not root)
	@if command -v apt-get >/dev/null && ! pkg-config --exists alsa 2>/dev/null; then \
		sudo=$$([ "$$(id -u)" = 0 ] || echo sudo); \
		echo "installing Debian's libasound2-dev and pkg-config $${sudo:+with sudo}" >&2; \
		$$sudo apt-get update -qq && $$sudo env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq libasound2-dev pkg-config >/dev/null; \
	fi

demo: setup ## the whole job on the demo engine
	cargo run --release --locked -- demo

test: setup ## every test
	cargo test --locked

lint: setup ## format and lints
	cargo fmt --all --check
	cargo clippy --locked --all-targets -- -D warnings
