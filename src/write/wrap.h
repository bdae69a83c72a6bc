/* Words on lines no longer than a page is wide, continued under the first. */
#ifndef WRITE_WRAP_H
#define WRITE_WRAP_H

#include <stdio.h>

struct wrap {
    FILE *stream;
    int at, indent; /* columns used on this line; where a line that goes on begins */
};

/* One word that is not broken, whatever stands in it. */
void put_word(struct wrap *wrap, const char *word);
/* A text, broken at its spaces. */
void put_words(struct wrap *wrap, const char *text);

#endif
