/* What holds for every input: of numbers, of verdicts, of what is printed. */
#ifndef FUZZ_PROMISES_H
#define FUZZ_PROMISES_H

#include "sagband/sagband.h"

/* Ends the process when it does not hold. */
void must(bool holds, const char *promise, const char *where);

/* A known number lies between its bounds. */
void must_be_between(const struct sag_qty *qty, const char *where);

/* A refusal says why, and what was accepted holds no error; a message is one line, fit for a terminal. */
void must_explain(enum sag_status status, const struct sag_diags *diags);

/* It names its check, is not ok, and has value, limit and source. */
void must_be_finding(const struct sag_finding *finding);

void must_be_consistent(const struct sag_result *result);

/* What a format printed for `rows` rows can be read again and holds no number that is none. `says_nan`: the input
   itself has such a word, so that it may stand in a tag. */
struct printed {
    const char *format, *text;
    size_t size, rows, columns;
    bool says_nan;
};
void must_be_readable(const struct printed *printed);

/* Text without bytes or characters that steer a terminal. */
void must_be_plain(const char *text, size_t size, const char *where);

/* A tag in a gnuplot script stays one string, and in a file name one name. */
void must_be_caged(const char *tag);

bool has_nan_word(const char *text, size_t size);

#endif
