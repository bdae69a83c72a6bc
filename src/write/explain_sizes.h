/* What the sheets of protection share. */
#ifndef WRITE_EXPLAIN_SIZES_H
#define WRITE_EXPLAIN_SIZES_H

#include "write/sheet.h"

/* Where lines go, and the symbols that their formulas use. */
struct sizing {
    struct sag_lines *lines;
    const struct sag_sheet_job *job;
    const char *section;
    struct symbols symbols;
};

/* A line; nothing when its value is not known. */
void add_size(const struct sizing *s, struct sag_line line);
/* A line of words. */
void add_words(const struct sizing *s, const char *words, const char *source, const char *note);
/* Size and amps of a wire with the factors that they come by; nothing without a size. */
void add_wire_facts(const struct sizing *s, const struct sag_wire *wire, const char *words);

#endif
