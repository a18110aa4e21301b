# Thin over the presets in CMakePresets.json. `make run` and `make check` do all set-up themselves.
.PHONY: run check bench pictures threads clean help set-up-run set-up-check release dev measure

JOBS ?= $(shell nproc)
RUN := build/run
BATTEN := build/release/batten --store $(RUN)/demo.store

help:
	@echo "make run       set up, build, and open the app on the demo piano; Ctrl-C ends it"
	@echo "make check     set up, build, and run every test"
	@echo "make bench     time the scenarios beside their references; results in benchmarks/results, the closed loop in docs/theory"
	@echo "make pictures  the pictures and outputs the README and the manual show"
	@echo "make threads   the tests under the thread sanitizer"
	@echo "make clean     remove everything built"

run: release
	@mkdir -p $(RUN)
	@$(BATTEN) demo
	@$(BATTEN) sheet --plan -o $(RUN)/work-plan.pdf
	@$(BATTEN) sheet -o $(RUN)/line-sheet.pdf
	@setup/open-app $(BATTEN)

check: dev measure
	ctest --preset dev -j $(JOBS)
	ctest --preset measure -j $(JOBS)

bench: measure
	benchmarks/compare --build build/measure
	build/measure/benchmarks/closed_loop/closed_loop_table

pictures: release
	docs/pictures/make
	docs/pictures/make-web

threads: set-up-check
	cmake --preset threads
	cmake --build --preset threads -j $(JOBS)
	ctest --preset threads -j $(JOBS)

set-up-run:
	@setup/install setup/packages.run

set-up-check:
	@setup/install setup/packages.run setup/packages.check

release: set-up-run
	@mkdir -p build && { cmake --preset release > build/configure.log 2>&1 || { cat build/configure.log; exit 1; }; }
	@cmake --build --preset release -j $(JOBS)

dev measure: set-up-check
	cmake --preset $@
	cmake --build --preset $@ -j $(JOBS)

clean:
	rm -rf build
