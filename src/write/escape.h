/* User text on its way into a format. Each function is named for where the text goes; nothing else writes user text. */
#ifndef WRITE_ESCAPE_H
#define WRITE_ESCAPE_H

#include <stddef.h>
#include <stdio.h>

/* A CSV cell: quoted where needed; one that a spreadsheet would run as a formula gets an apostrophe in front. */
void put_csv_cell(FILE *stream, const char *text);

/* Text on a terminal or in a text report: control bytes and marks that turn the writing direction become '?'. */
void put_plain(FILE *stream, const char *text);
/* The same, cut or padded to `width` characters (negative: padded on the left). Cut text ends in "~". */
void put_padded(FILE *stream, const char *text, int width);

/* Text of a web page, between tags or in a quoted attribute: no tag, entity or turned direction survives in it. Longer
   text than a table bears is cut and ends in "~". */
void put_html(FILE *stream, const char *text);
/* The same without an end, lines kept. For texts that were made here and hold user text. */
void put_html_block(FILE *stream, const char *text);

/* A single-quoted gnuplot string, quotes included: no escape, variable or command survives in it. */
void put_gnuplot(FILE *stream, const char *text);

/* Name of a file made of user text: letters, digits, '.', '-', '_' only, never empty, hidden or an option. */
char *put_file_name(char *out, size_t room, const char *text);

/* The first `width` characters of text, the last of them "~" when it had more. Returns out. */
char *put_cut(char *out, size_t room, const char *text, int width);

/* Characters (not bytes) of UTF-8 text. */
int text_width(const char *text);

#endif
