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

LIB_SOURCES  := $(sort $(wildcard $(addprefix src/,$(addsuffix /*.c,base tables read complete model network start protect judge write))))
CLI_SOURCES  := $(sort $(wildcard src/cli/*.c))
TEST_SOURCES := $(sort $(wildcard tests/*.c tests/unit/*.c tests/outside/*.c tests/golden/*.c tests/fuzz/*.c))
LIB_OBJECTS  := $(LIB_SOURCES:%.c=$(BUILD)/%.o)
CLI_OBJECTS  := $(CLI_SOURCES:%.c=$(BUILD)/%.o)
TEST_OBJECTS := $(TEST_SOURCES:%.c=$(BUILD)/%.o)
TABLES       := $(sort $(wildcard motordata/tables/*.csv))

PLANT  := motordata/cawdry-flats
BINARY := $(BUILD)/sagband

.DELETE_ON_ERROR:
.PHONY: all setup demo test lint sanitize fuzz bench golden plots install uninstall clean help

all: $(BINARY) $(BUILD)/libsagband.a ## build the program and the library

$(BINARY): $(CLI_OBJECTS) $(BUILD)/libsagband.a
	$(CC) $(CFLAGS) -o $@ $^ $(LIBS)

$(BUILD)/libsagband.a: $(LIB_OBJECTS)
	rm -f $@ && $(AR) rcs $@ $^

$(BUILD)/%.o: %.c $(BUILD)/generated/embedded_tables.h
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

-include $(LIB_OBJECTS:.o=.d) $(CLI_OBJECTS:.o=.d) $(TEST_OBJECTS:.o=.d)

# --- tests ------------------------------------------------------------------------------------------------------------

TEST_BINARY := $(BUILD)/run-tests

$(TEST_BINARY): $(TEST_OBJECTS) $(BUILD)/libsagband.a
	$(CC) $(CFLAGS) -o $@ $^ -lcmocka $(LIBS)

$(TEST_OBJECTS): INCLUDES += -Itests

test: $(TEST_BINARY) $(BINARY) ## run all tests
	SAGBAND=$(abspath $(BINARY)) $(TEST_BINARY)
