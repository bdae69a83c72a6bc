/* The formats; to add one, write as_NAME.c and put its record in formats.c. */
#ifndef WRITE_FORMATS_H
#define WRITE_FORMATS_H

#include "sagband/write.h"

extern const struct sag_writer sag_as_text, sag_as_csv, sag_as_json;
/* Not a format that a command prints: the tables of the report's page. */
extern const struct sag_writer sag_as_html;

/* Escape sequence that a verdict's word is shown in on a terminal. */
const char *verdict_colour(const char *word);

/* Names of the columns that hold these facts (a bit a fact), a blank between them; what does not fit is left out. */
const char *put_fact_columns(uint64_t facts, char *out, size_t room);

/* A kind of device (enum sag_device) where there is little room; "" for a blank. */
const char *short_device(uint8_t kind);

#endif
