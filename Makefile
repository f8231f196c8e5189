# make demo: sets up, builds, runs the whole job on the demo engine.
# make test: sets up and passes the tests, in the same build.

SHELL := /bin/bash
.SHELLFLAGS := -eu -o pipefail -c
.DEFAULT_GOAL := help
DUCKDB := 2.0.1
.PHONY: help setup setup-tests setup-bench setup-accuracy fetch demo check test accuracy bench lint fuzz fuzz-keep big deny package package-test fleet

help: ## this list
	@grep -E '^[a-z-]+:.*##' $(MAKEFILE_LIST) | sed 's/:.*## /\t/' | expand -t 12

# Debian's headers of the sound library; macOS and Windows need only cargo.
setup: ## installs what the build needs where it lacks (Debian packages, with sudo where you are not root)
	@command -v cargo >/dev/null || { echo "cargo is not there: Rust 1.92 or newer, from https://rustup.rs or your system's packages" >&2; exit 1; }
	@if [ "$$(uname -s)" = Linux ] && ! pkg-config --exists alsa 2>/dev/null; then \
		if ! command -v apt-get >/dev/null; then \
			echo "the sound library's headers (ALSA) and pkg-config are not there, and this is no Debian: install them by your system's means" >&2; \
			echo "(alsa-lib-devel and pkgconf on Fedora, alsa-lib and pkgconf on Arch), then run make again" >&2; exit 1; \
		fi; \
		$(call install,libasound2-dev pkg-config); \
	fi

# Installs Debian's packages: $(1) their names. Says what to do where it cannot.
define install
	sudo=; \
	if [ "$$(id -u)" != 0 ]; then \
		command -v sudo >/dev/null || { echo "Debian's" $(1) "lack and there is no sudo here: as root, apt-get install" $(1) >&2; exit 1; }; \
		sudo=sudo; \
	fi; \
	echo "installing Debian's" $(1) "$${sudo:+with sudo}" >&2; \
	{ $$sudo apt-get update -qq && $$sudo env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $(1) >/dev/null; } \
		|| { echo "they could not be installed: without a network or the rights, ask who has them for: apt-get install" $(1) >&2; exit 1; }
endef

# The sources of the crates, so that a build that begins can end. Those that are there need no network.
fetch:
	@cargo fetch --locked --quiet --target "$$(rustc -vV | sed -n 's/^host: //p')" \
		|| { echo "the crates' sources could not be fetched: a network is needed the first time (about 40 MB, once)" >&2; exit 1; }

# dpkg-query ends with 1 where it has never heard of a package: that is no error here, it is one of those lacking.
# A clock that jumps (libfaketime). A sound server, its tools and ALSA's way to it, for the virtual microphones; python3 paces one of them.
# A browser and readers of PDF, for the report. DuckDB, which reads the tables of a history, in a folder of its own.
setup-tests: setup ## installs what the tests need besides (Debian packages, with sudo where you are not root)
	@if command -v apt-get >/dev/null; then \
		lacking=$$({ dpkg-query -W -f '$${Status} $${Package}\n' pulseaudio pulseaudio-utils libasound2-plugins libfaketime python3 python3-venv chromium poppler-utils qpdf 2>/dev/null || true; } \
			| awk '$$3 == "installed" {print $$4}' | sort \
			| comm -13 - <(printf '%s\n' chromium libasound2-plugins libfaketime poppler-utils pulseaudio pulseaudio-utils python3 python3-venv qpdf)); \
		if [ -n "$$lacking" ]; then $(call install,$$lacking); fi; \
	fi
	@if ! target/test-python/bin/python -c 'import duckdb; assert duckdb.__version__ == "$(DUCKDB)"' 2>/dev/null; then \
		echo "installing duckdb $(DUCKDB) for Python into target/test-python" >&2; \
		python3 -m venv target/test-python && target/test-python/bin/pip install --quiet --disable-pip-version-check duckdb==$(DUCKDB) \
			|| { echo "duckdb could not be installed: a network is needed the first time" >&2; exit 1; }; \
	fi

demo: setup fetch ## the whole job on the demo engine
	@[ -x target/debug/hissward ] || echo "building: the first time 4 minutes or so on two cores; 'make test' goes on from there" >&2
	cargo run --locked -- demo $(DEMO)

# What a change breaks first, within a minute once there is a build: format, every unit test, the core against its sources.
CHECKED := fixtures gauge history layers pack ranking spectrum supply_chain
check: setup ## the quick tests: a minute after the first build
	cargo fmt --all --check
	cargo test --locked --quiet --lib --bins $(CHECKED:%=--test %)

# With cargo-nextest the long ones run side by side (.config/nextest.toml says which must not). It gives every test a
# process of its own, so those that share costly sounds stay with cargo, and so do the examples in the documentation.
SHARING := accuracy properties
test: setup-tests fetch ## every test
	@[ -n "$$(find target/debug/deps -name 'faults-*' -print -quit 2>/dev/null)" ] || \
		echo "building the tests: the first time 4 minutes or so on two cores, then they run for about as long" >&2
	@if cargo nextest --version >/dev/null 2>&1; then set -x; \
		cargo nextest run --locked --no-fail-fast -E 'not binary(/^($(subst $() ,|,$(SHARING)))$$/)'; \
		cargo test --locked --no-fail-fast $(SHARING:%=--test %); \
		cargo test --locked --doc; \
	else set -x; cargo test --locked; fi

# More: cargo bench --bench accuracy -- --where tuning --by-noise --cases 60
accuracy: setup-accuracy ## how often the ranking is right, in noises that nothing was tuned on; table and picture in target/accuracy
	cargo bench --locked --bench accuracy -- --where reporting --by-noise

# numpy and scipy, which the arithmetic is timed against, in a folder of their own.
BENCH_PYTHON := target/bench-python/bin/python
setup-bench: setup setup-accuracy
	@if ! $(BENCH_PYTHON) -c 'from importlib.metadata import version; \
		assert all(version(name) == wanted for name, wanted in (line.split("==") for line in open("benches/reference/requirements.txt").read().split()))' 2>/dev/null; then \
		echo "installing numpy and scipy into target/bench-python" >&2; \
		python3 -m venv target/bench-python && $(BENCH_PYTHON) -m pip install --quiet --disable-pip-version-check -r benches/reference/requirements.txt; \
	fi

# ffmpeg's codecs, what recorders do to speech, and real machines out of Debian's packages; what cannot be had is told,
# and the bench runs on what is there.
CHAIN_PYTHON := target/chain-python/bin/python
setup-accuracy: setup ## what `make accuracy` needs besides: recorders' processing, real machines (fetches about 900 MB once, keeps 4)
	@if command -v apt-get >/dev/null && ! command -v ffmpeg >/dev/null; then \
		sudo=$$([ "$$(id -u)" = 0 ] || echo sudo); \
		echo "installing Debian's ffmpeg $${sudo:+with sudo}" >&2; \
		{ $$sudo apt-get update -qq && $$sudo env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends ffmpeg >/dev/null; } || echo "ffmpeg is lacking" >&2; \
	fi
	@if ! $(CHAIN_PYTHON) -c 'import pywebrtc_audio, pyrnnoise.rnnoise' 2>/dev/null; then \
		echo "installing pywebrtc-audio and pyrnnoise into target/chain-python" >&2; \
		{ python3 -m venv target/chain-python && $(CHAIN_PYTHON) -m pip install --quiet --disable-pip-version-check -r benches/accuracy/requirements.txt; } \
			|| echo "pywebrtc-audio and pyrnnoise are lacking" >&2; \
	fi
	@python3 benches/accuracy/machines.py target/accuracy/machines || echo "no machines could be fetched" >&2

# Parts of it: make bench BENCH=rank. On a machine that does nothing else.
bench: setup-bench ## how fast it is: every figure beside its limit, beside numpy and scipy; tables in target/speed
	cargo bench --locked --bench speed -- $(BENCH)

lint: setup ## format and lints
	cargo fmt --all --check
	cargo clippy --locked --all-targets -- -D warnings

FUZZ_SECONDS := 600
FUZZ_TARGETS := $(basename $(notdir $(wildcard fuzz/targets/*.rs)))
# More than this at once, or in one piece, is a crash, and so is an input that takes longer.
FUZZ_LIMITS := -max_len=65536 -timeout=20 -rss_limit_mb=2048 -malloc_limit_mb=512

# Needs a nightly toolchain and cargo-fuzz (`cargo install cargo-fuzz`). New inputs gather in fuzz/found, which is not kept.
fuzz: setup ## every reader of outside bytes against a fuzzer, FUZZ_SECONDS (600) each; FUZZ_TARGETS="pack audio" for some
	@for target in $(FUZZ_TARGETS); do \
		seeds=fuzz/corpus/$$target; [ $$target != audio ] || seeds="$$seeds fixtures/audio"; \
		mkdir -p fuzz/found/$$target; \
		cargo +nightly fuzz run --fuzz-dir fuzz $$target fuzz/found/$$target $$seeds -- \
			$(FUZZ_LIMITS) -max_total_time=$(FUZZ_SECONDS) -print_final_stats=1; \
	done

# New is what takes a way through the code that no other input takes, however often.
fuzz-keep: setup ## takes into fuzz/corpus what was found and shows something new
	@for target in $(FUZZ_TARGETS); do \
		mkdir -p fuzz/found/$$target; \
		cargo +nightly fuzz run --fuzz-dir fuzz $$target fuzz/corpus/$$target fuzz/found/$$target -- -merge=1 -use_counters=0 -max_len=4096; \
	done

big: setup ## four hours of sound, eight channels of 192 kHz, 600 clips: peak memory and time (needs 6 GB for a while)
	cargo build --release --locked
	benches/big/run.sh target/release/hissward

deny: ## licences, sources and doubles of every platform's crates (needs cargo-deny: `cargo install cargo-deny`)
	cargo deny --locked check licenses sources bans

# What the package is made of: src/package. MINISIGN_KEY=FILE signs it.
package: setup fetch ## the Debian package and the archive for other Linux systems, in target/package
	src/package/build.sh

# Builds twice and compares; installs in a bare Debian 12, runs it there, removes it; the archive in a bare Debian 11.
package-test: setup fetch ## the package where a user would be (as root, with debootstrap; half an hour)
	src/package/test.sh

# Java and Spark are heavy: not part of `make test`.
fleet: setup-tests ## 100,000 simulated jobs' tables through DuckDB and Spark (needs java; 500 MB from the network)
	src/export/fleet/run.sh
