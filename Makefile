# make demo: sets up, builds, runs the whole job on the demo engine.
# make test: sets up and passes the tests.

SHELL := /bin/bash
.SHELLFLAGS := -eu -o pipefail -c
.DEFAULT_GOAL := help
DUCKDB := 2.0.1
.PHONY: help setup setup-tests setup-bench setup-accuracy demo test accuracy bench lint fuzz fuzz-keep big deny

help: ## this list
	@grep -E '^[a-z-]+:.*##' $(MAKEFILE_LIST) | sed 's/:.*## /\t/' | expand -t 12

# Debian's headers of the sound library; macOS and Windows need only cargo.
setup: ## installs what the build needs where it lacks (Debian packages, with sudo where you are not root)
	@if command -v apt-get >/dev/null && ! pkg-config --exists alsa 2>/dev/null; then \
		sudo=$$([ "$$(id -u)" = 0 ] || echo sudo); \
		echo "installing Debian's libasound2-dev and pkg-config $${sudo:+with sudo}" >&2; \
		$$sudo apt-get update -qq && $$sudo env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq libasound2-dev pkg-config >/dev/null; \
	fi

# dpkg-query ends with 1 where it has never heard of a package: that is no error here, it is one of those lacking.
# A clock that jumps (libfaketime). A sound server, its tools and ALSA's way to it, for the virtual microphones; python3 paces one of them.
# A browser and readers of PDF, for the report. DuckDB, which reads the tables of a history, in a folder of its own.
setup-tests: setup ## installs what the tests need besides (Debian packages, with sudo where you are not root)
	@if command -v apt-get >/dev/null; then \
		lacking=$$({ dpkg-query -W -f '$${Status} $${Package}\n' pulseaudio pulseaudio-utils libasound2-plugins libfaketime python3 python3-venv chromium poppler-utils qpdf 2>/dev/null || true; } \
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
