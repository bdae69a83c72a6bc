# Everything goes through here; `make help` lists the targets.
CC       ?= gcc
CSTD     := -std=c11 -D_GNU_SOURCE -ffp-contract=off
WARNINGS := -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Werror
CFLAGS   ?= -O2 -g
BUILD    ?= build
PREFIX   ?= /usr/local
DESTDIR  ?=
VERSION  := 0.1.0

LIBS     := -lcsv -lgsl -lgslcblas -ljansson -lm -lpthread
INCLUDES := -Iinclude -Isrc -I$(BUILD)/generated
COMPILE   = $(CC) $(CSTD) $(WARNINGS) $(CFLAGS) $(INCLUDES) -DSAG_VERSION='"$(VERSION)"' -MMD -MP

LIB_SOURCES  := $(sort $(wildcard $(addprefix src/,$(addsuffix /*.c,base tables read complete model network start protect judge survey advise write))))
CLI_SOURCES  := $(sort $(wildcard src/cli/*.c))
TEST_SOURCES := $(sort $(wildcard tests/*.c tests/unit/*.c tests/outside/*.c tests/golden/*.c tests/fuzz/*.c tests/faults/*.c tests/installed/*.c))
LIB_OBJECTS  := $(LIB_SOURCES:%.c=$(BUILD)/%.o)
CLI_OBJECTS  := $(CLI_SOURCES:%.c=$(BUILD)/%.o)
TEST_OBJECTS := $(TEST_SOURCES:%.c=$(BUILD)/%.o)
GENERATED    := $(BUILD)/generated/embedded_tables.h $(BUILD)/generated/report_style.h
TABLES       := $(sort $(wildcard motordata/tables/*.csv))

PLANT  := motordata/cawdry-flats
BINARY := $(BUILD)/sagband

.DELETE_ON_ERROR:
.PHONY: all setup setup-test setup-lint setup-fuzz setup-bench setup-browser setup-same demo survey-log test test-browser same lint sanitize fuzz bench golden plots pictures install uninstall clean help

all: $(BINARY) $(BUILD)/libsagband.a ## build the program and the library

$(BINARY): $(CLI_OBJECTS) $(BUILD)/libsagband.a
	$(CC) $(CFLAGS) -o $@ $^ $(LIBS) -lmd

$(BUILD)/libsagband.a: $(LIB_OBJECTS)
	rm -f $@ && $(AR) rcs $@ $^

$(BUILD)/%.o: %.c $(GENERATED)
	@mkdir -p $(@D)
	$(COMPILE) -c -o $@ $<

# The tables become byte lists. The folder is a prerequisite, so adding or removing a table rebuilds.
$(BUILD)/generated/embedded_tables.h: $(TABLES) motordata/tables
	@mkdir -p $(@D)
	@{ echo '/* generated from motordata/tables by make */'; \
	   echo 'struct embedded_table { const char *name; const unsigned char *bytes; unsigned long size; };'; \
	   for t in $(TABLES); do n=$$(basename $$t .csv); \
	     echo "static const unsigned char csv_$$n[] = {"; od -v -A n -t u1 $$t | sed 's/  */,/g; s/^,//; s/$$/,/'; echo '};'; \
	   done; \
	   echo 'static const struct embedded_table embedded_tables[] = {'; \
	   for t in $(TABLES); do n=$$(basename $$t .csv); echo "    {\"$$n\", csv_$$n, sizeof csv_$$n},"; done; \
	   echo '};'; } > $@.tmp && mv $@.tmp $@

# The report's style sheet, the same way.
$(BUILD)/generated/report_style.h: src/write/report.css
	@mkdir -p $(@D)
	@{ echo '/* generated from $< by make */'; echo 'static const unsigned char report_style[] = {'; \
	   od -v -A n -t u1 $< | sed 's/  */,/g; s/^,//; s/$$/,/'; echo '};'; } > $@.tmp && mv $@.tmp $@

$(BUILD)/src/cli/main.o: Makefile # which knows the version

.PHONY: generated
generated: $(GENERATED)

-include $(LIB_OBJECTS:.o=.d) $(CLI_OBJECTS:.o=.d) $(TEST_OBJECTS:.o=.d)

# --- tests ------------------------------------------------------------------------------------------------------------

TEST_BINARY := $(BUILD)/run-tests

$(TEST_BINARY): $(TEST_OBJECTS) $(BUILD)/libsagband.a
	$(CC) $(CFLAGS) -o $@ $^ -lcmocka $(LIBS)

$(TEST_OBJECTS): INCLUDES += -Itests
$(TEST_OBJECTS): | setup-test

test: $(TEST_BINARY) $(BINARY) ## run all tests
	SAGBAND=$(abspath $(BINARY)) $(TEST_BINARY)

golden: $(TEST_BINARY) $(BINARY) ## rewrite the expected outputs in tests/golden; read the diff before committing
	SAGBAND=$(abspath $(BINARY)) SAGBAND_GOLDEN=rewrite $(TEST_BINARY) golden

# Folder, compiler and flags of each build that has to give the same answer; the first two are lint's.
SAME_BUILDS := gcc:gcc:-O3 clang:clang:-O0 gcc-O0:gcc:-O0 clang-O3:clang:-O3
SAME        ?= $(SAME_BUILDS)
same: setup-same all ## the same bytes from gcc and clang, -O0 and -O3, other locales, 1, 2 and 7 threads
	@set -e; for b in $(SAME); do \
	  folder=$${b%%:*}; rest=$${b#*:}; \
	  $(MAKE) --no-print-directory BUILD=$(BUILD)/$$folder CC=$${rest%%:*} CFLAGS=$${rest#*:} all; \
	done
	sh tests/same.sh $(BINARY) $(foreach b,$(SAME),$(BUILD)/$(firstword $(subst :, ,$(b)))/sagband)

SANITIZE := -g -O1 -fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer
sanitize: ## all tests under the address and undefined-behaviour sanitizers
	$(MAKE) --no-print-directory BUILD=$(BUILD)/sanitize CFLAGS='$(SANITIZE)' test

test-browser: setup-browser $(BINARY) ## the report in a headless Chromium: sizes, dark, paper, no requests, no errors
	python3 tests/browser/look.py $(BINARY) $(BUILD)/browser

FUZZ_SECONDS ?= 60
fuzz: setup-fuzz $(GENERATED) ## FUZZ_SECONDS (60) of libFuzzer on each harness
	sh tests/fuzz/run.sh $(FUZZ_SECONDS)

bench: setup-bench all ## figures: microseconds a fit, rows, memory, peers
	sh tests/bench/run.sh

# --- looking at the code ----------------------------------------------------------------------------------------------

C_FILES := $(sort $(wildcard include/sagband/*.h docs/*.c src/*/*.[ch] tests/*.[ch] tests/*/*.[ch]))

lint: setup-lint $(GENERATED) ## layout, layers, headers, static checks; everything must be silent
	clang-format --dry-run --Werror $(C_FILES)
	sh tests/lint/layers.sh
	sh tests/lint/headers.sh "$(CC)"
	$(MAKE) BUILD=$(BUILD)/gcc CC=gcc CFLAGS=-O3 $(BUILD)/gcc/libsagband.a
	sh tests/lint/globals.sh $(BUILD)/gcc/libsagband.a
	$(MAKE) BUILD=$(BUILD)/clang CC=clang CFLAGS=-O0 all $(BUILD)/clang/run-tests
	cppcheck --quiet --std=c11 --enable=warning,performance,portability --inline-suppr --error-exitcode=1 \
	  --suppress=missingIncludeSystem --suppress=ctuuninitvar -Iinclude -Isrc -I$(BUILD)/generated src
	printf '%s\n' $(LIB_SOURCES) $(CLI_SOURCES) | xargs -P 4 -I{} clang-tidy --quiet {} -- $(CSTD) $(INCLUDES) -DSAG_VERSION='"$(VERSION)"' 2>$(BUILD)/clang-tidy.log
	! mandoc -T lint -W style docs/sagband.1 2>&1 | grep -v gnuplot # whose page need not be there

# --- the demonstration plant ------------------------------------------------------------------------------------------

# Exit status 1 says that a motor fails a check, which is what the plant is there to show.
DEMO := $(BUILD)/demo
SHOW := || test $$? -eq 1
demo: $(BINARY) ## run the demonstration plant end to end into build/demo
	@rm -rf $(DEMO) && mkdir -p $(DEMO)
	$(BINARY) check -q --supply $(PLANT)/supply.csv -o $(DEMO)/check.txt $(PLANT)/motors.csv $(SHOW)
	$(BINARY) supply -q --supply $(PLANT)/supply.csv -o $(DEMO)/supply.txt $(PLANT)/motors.csv $(SHOW)
	$(BINARY) start -q --supply $(PLANT)/supply.csv -o $(DEMO)/start.txt $(PLANT)/motors.csv $(SHOW)
	$(BINARY) protect -q --supply $(PLANT)/supply.csv -o $(DEMO)/protect.txt $(PLANT)/motors.csv $(SHOW)
	$(BINARY) explain LP-1 -q --supply $(PLANT)/supply.csv -o $(DEMO)/LP-1.txt $(PLANT)/motors.csv $(SHOW)
	$(BINARY) survey -q --supply $(PLANT)/supply.csv --motors $(PLANT)/motors.csv -o $(DEMO)/survey.txt \
	  --script $(DEMO)/survey.gp --render png $(PLANT)/survey.csv $(SHOW)
	$(BINARY) plot -q --supply $(PLANT)/supply.csv --render png -o $(DEMO)/plots $(PLANT)/motors.csv $(SHOW)
	$(BINARY) report --title "Cawdry Flats lift station" --supply $(PLANT)/supply.csv -o $(DEMO)/report $(PLANT)/motors.csv $(SHOW)
	@test -s $(DEMO)/plots/LIFT-band.png && grep -q '<svg' $(DEMO)/report/index.html
	@echo
	@echo "Open $(DEMO)/report/index.html: the report. Its tables as CSV are beside it."
	@echo "In $(DEMO) as well: check.txt, supply.txt (the boards), start.txt, protect.txt (wires and devices), survey.txt and"
	@echo "survey.png (a week's log of volts), LP-1.txt (a calculation sheet), plots (pictures with their gnuplot scripts)."

plots: $(BINARY) ## rewrite the demonstration plant's scripts in plots/
	$(BINARY) plot -q --force --supply $(PLANT)/supply.csv -o plots $(PLANT)/motors.csv $(SHOW)

# FEEDER-KIND, after a colon the one motor that it is cut down to.
PICTURES := LIFT-band LIFT-curve:LP-1 LIFT-effect LIFT-profile COLD-sag:CP-1 COLD-torque SHOP-timecurrent PACK-sizes
DRAWN    := $(BUILD)/pictures
pictures: $(BINARY) ## redraw the pictures of the pages, docs/pictures, from the demonstration plant (report.png: from build/browser); look at them
	rm -rf $(DRAWN) && mkdir -p docs/pictures
	for p in $(PICTURES); do name=$${p%:*} only="--feeder $${p%%-*}"; [ $$name = $$p ] || only="--motor $${p#*:}"; \
	  $(BINARY) plot -q --force --supply $(PLANT)/supply.csv $$only --render png -o $(DRAWN) $(PLANT)/motors.csv $(SHOW); \
	  cp $(DRAWN)/$$name.png docs/pictures/ || exit; done
	$(BINARY) survey -q --force --supply $(PLANT)/supply.csv --motors $(PLANT)/motors.csv --script $(DRAWN)/LIFT-survey.gp \
	  --render png $(PLANT)/survey.csv >$(DRAWN)/survey.txt $(SHOW)
	cp $(DRAWN)/LIFT-survey.png docs/pictures/

survey-log: ## rewrite the demonstration plant's log of volts, an invented week
	@mkdir -p $(BUILD)/bench
	$(CC) $(CSTD) $(WARNINGS) $(CFLAGS) -o $(BUILD)/bench/volt_log tests/bench/volt_log.c -lm
	$(BUILD)/bench/volt_log week >$(PLANT)/survey.csv.tmp && mv $(PLANT)/survey.csv.tmp $(PLANT)/survey.csv

# --- installing -------------------------------------------------------------------------------------------------------

# Names are quoted: a folder may have a blank in its name. INTO is where files land, PREFIX what they say of themselves.
INTO      = $(DESTDIR)$(PREFIX)
PAGES     = $(INTO)/share/doc/sagband
INSTALLED = bin/sagband lib/libsagband.a lib/pkgconfig/sagband.pc share/man/man1/sagband.1 \
  share/bash-completion/completions/sagband

# There is no shared library, so a program that links this archive needs its libraries too: `Libs` and `Requires`, not the
# private ones. libcsv brings no .pc file; -lcsv stands for it.
define PKG_CONFIG_FILE
prefix=$(PREFIX)

Name: sagband
Description: voltage tolerance, starting and protection of motor circuits
Version: $(VERSION)
Requires: gsl jansson
Cflags: -I"$${prefix}/include"
Libs: -L"$${prefix}/lib" -lsagband -lcsv -lm -lpthread
endef
export PKG_CONFIG_FILE

install: all ## install program, library, headers, manual, completion, pages below DESTDIR and PREFIX (/usr/local)
	install -d "$(INTO)/bin" "$(INTO)/lib/pkgconfig" "$(INTO)/include/sagband" "$(INTO)/share/man/man1" \
	  "$(INTO)/share/bash-completion/completions" "$(PAGES)/docs/pictures"
	install -m 755 $(BINARY) "$(INTO)/bin/sagband"
	install -m 644 $(BUILD)/libsagband.a "$(INTO)/lib/"
	install -m 644 include/sagband/*.h "$(INTO)/include/sagband/"
	install -m 644 docs/sagband.1 "$(INTO)/share/man/man1/"
	install -m 644 docs/sagband.bash "$(INTO)/share/bash-completion/completions/sagband"
	install -m 644 README.md DEVELOPERS.md LICENSE "$(PAGES)/"
	install -m 644 docs/*.md docs/example.c "$(PAGES)/docs/"
	install -m 644 docs/pictures/*.png "$(PAGES)/docs/pictures/"
	printf '%s\n' "$$PKG_CONFIG_FILE" > "$(INTO)/lib/pkgconfig/sagband.pc"
	chmod 644 "$(INTO)/lib/pkgconfig/sagband.pc"

uninstall: ## remove what install put there; folders that others use as well stay
	rm -rf "$(INTO)/include/sagband" "$(PAGES)"
	for file in $(INSTALLED); do rm -f "$(INTO)/$$file"; done

setup: ## install what building and drawing need (Debian: apt; elsewhere it says what to install)
	sh tests/setup.sh build

setup-test setup-lint setup-fuzz setup-bench setup-browser setup-same: setup-%:
	sh tests/setup.sh $*

clean: ## remove all that was built
	rm -rf $(BUILD)

help: ## this list
	@sed -n 's/^\([a-z-]*\):.*## /\1\t/p' Makefile | while IFS="$$(printf '\t')" read -r t w; do printf '%-10s %s\n' "$$t" "$$w"; done
