/* Pieces of the report's page. */
#ifndef WRITE_HTML_H
#define WRITE_HTML_H

#include <stdio.h>

#include "sagband/status.h"

/* A verdict's word in its frame; the word says it, the colour only helps. */
void put_verdict(FILE *f, const char *word);

/* Running text with user text in it: "%s" stands for the next of `words`, escaped; nothing else is special. */
void put_sentence(FILE *f, const char *text, const char *const words[]);

/* The head of the page up to and with <body>. */
void begin_page(FILE *f, const char *title);
void end_page(FILE *f);

/* <section> with a heading (level 2 or 3) that links can go to. */
void begin_section(FILE *f, int level, const char *id, const char *heading);
void end_section(FILE *f);

/* A table up to and in its row of heads, in a box that scrolls; begin_rows() ends the heads. `more` is the box's class
   beside its own; "". */
void begin_table(FILE *f, const char *more, const char *caption);
void begin_rows(FILE *f);
void end_table(FILE *f);

/* A picture that gnuplot drew, put into the page. `name` sets its inner names apart from those of other pictures; `alt`
   says what it shows to those who do not see it. SAG_IO: the file cannot be read or is not such a picture. */
enum sag_status put_picture(FILE *f, const char *path, const char *name, const char *alt);

#endif
