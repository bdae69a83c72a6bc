/* Rows through every format, and words for people, each with what must hold of them. */
#ifndef FUZZ_PRINTING_H
#define FUZZ_PRINTING_H

#include "sagband/sagband.h"

/* Writes rows, and says how many. */
typedef size_t put_rows_fn(const void *context, const struct sag_writer *writer, struct sag_sheet *sheet);

struct print_job {
    const struct sag_view *view;
    const char *title;
    put_rows_fn *put_rows;
    const void *context;
    bool says_nan; /* the input has such a word */
};
void print_in_all_formats(const struct print_job *job);

/* One row, which has to succeed. */
void put_one(const struct sag_writer *writer, struct sag_sheet *sheet, const struct sag_value *values);

/* A stream in memory; end_words() looks at what went into it, and frees it. */
struct words {
    FILE *stream;
    char *text;
    size_t size;
};
void begin_words(struct words *words);
void end_words(struct words *words, bool says_nan, const char *where);

#endif
