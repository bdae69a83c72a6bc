#include "write/wrap.h"

#include <string.h>

#include "write/escape.h"

enum {
    LINE = 100
};

void put_word(struct wrap *w, const char *word)
{
    int width = text_width(word);
    if (w->at > w->indent && w->at + 1 + width > LINE) {
        fprintf(w->stream, "\n%*s", w->indent, "");
        w->at = w->indent;
    } else if (w->at > w->indent) {
        fputc(' ', w->stream);
        w->at++;
    }
    put_plain(w->stream, word);
    w->at += width;
}

void put_words(struct wrap *w, const char *text)
{
    char word[120];
    while (*text) {
        size_t n = strcspn(text, " ");
        size_t taken = n < sizeof word ? n : sizeof word - 1;
        memcpy(word, text, taken);
        word[taken] = '\0';
        if (taken)
            put_word(w, word);
        text += n + (text[n] == ' ');
    }
}
