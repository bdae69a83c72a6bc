/* Characters of UTF-8 text. */
#ifndef BASE_TEXT_H
#define BASE_TEXT_H

#include <stdbool.h>
#include <stddef.h>

/* Length of the UTF-8 sequence at `bytes` (of which `left` are there), 0 when it is none. */
size_t sag_utf8_step(const char *bytes, size_t left);

/* Bytes of the character at NUL-terminated text: a broken sequence counts byte by byte; 0 at the end. */
size_t sag_character(const char *text);

/* Control characters, marks that turn or hide text, and bytes of no character: what a reader cannot see and a terminal
   or a script may act on. */
bool sag_is_unseen(const char *text, size_t length);

#endif
