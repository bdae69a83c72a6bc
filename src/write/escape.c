#include "write/escape.h"

#include <stdbool.h>
#include <string.h>

static bool runs_as_formula(const char *text)
{
    return *text && strchr("=+-@\t\r", *text);
}

void put_csv_cell(FILE *stream, const char *text)
{
    bool formula = runs_as_formula(text);
    if (!formula && !text[strcspn(text, ",;\"\n\r")]) {
        fputs(text, stream);
        return;
    }
    fputs(formula ? "\"'" : "\"", stream);
    for (; *text; text++) {
        if (*text == '"')
            fputc('"', stream);
        fputc(*text, stream);
    }
    fputc('"', stream);
}

/* Bytes of the character at text, at least 1 unless at the end. */
static size_t character(const char *text)
{
    size_t n = *text != '\0';
    while (n && ((unsigned char)text[n] & 0xC0) == 0x80)
        n++;
    return n;
}

/* Control characters of ASCII and Latin-1, and those that turn or hide text: U+200B..U+200F, U+202A..U+202E,
   U+2060..U+2069, U+FEFF. */
static bool is_unseen(const char *text, size_t n)
{
    const unsigned char *c = (const unsigned char *)text;
    if (n == 1)
        return c[0] < 0x20 || c[0] == 0x7F;
    if (n == 2)
        return c[0] == 0xC2 && c[1] < 0xA0;
    if (n != 3)
        return false;
    unsigned code = (c[0] & 0x0FU) << 12 | (c[1] & 0x3FU) << 6 | (c[2] & 0x3FU);
    return (code >= 0x200B && code <= 0x200F) || (code >= 0x2028 && code <= 0x202E) ||
           (code >= 0x2060 && code <= 0x2069) || code == 0xFEFF;
}

static void put_character(FILE *stream, const char *text, size_t n)
{
    if (is_unseen(text, n))
        fputc('?', stream);
    else
        fwrite(text, 1, n, stream);
}

void put_plain(FILE *stream, const char *text)
{
    for (size_t n; (n = character(text)) > 0; text += n)
        put_character(stream, text, n);
}

int text_width(const char *text)
{
    int width = 0;
    for (size_t n; (n = character(text)) > 0; text += n)
        width++;
    return width;
}

void put_padded(FILE *stream, const char *text, int width)
{
    bool left_pad = width < 0;
    width = left_pad ? -width : width;
    int have = text_width(text);
    int show = have > width ? width - 1 : have;
    for (int i = have; left_pad && i < width; i++)
        fputc(' ', stream);
    for (int i = 0; i < show; i++) {
        size_t n = character(text);
        put_character(stream, text, n);
        text += n;
    }
    if (have > width)
        fputc('~', stream);
    for (int i = have; !left_pad && i < width; i++)
        fputc(' ', stream);
}

void put_gnuplot(FILE *stream, const char *text)
{
    enum {
        LONGEST = 60
    };
    int shown = 0;
    fputc('\'', stream);
    for (size_t n; (n = character(text)) > 0 && shown < LONGEST; text += n, shown++) {
        if (is_unseen(text, n))
            fputc(' ', stream);
        else if (n == 1 && strchr("'\"`$\\@", *text))
            fputc('_', stream);
        else
            fwrite(text, 1, n, stream);
    }
    fputs(*text ? "~'" : "'", stream);
}

char *put_file_name(char *out, size_t room, const char *text)
{
    enum {
        LONGEST = 60
    };
    size_t n = 0;
    for (; *text && n + 1 < room && n < LONGEST; text++) {
        char c = *text;
        bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                     (n > 0 && (c == '.' || c == '-')) || c == '_';
        out[n++] = (char)(plain ? c : '_');
    }
    if (n == 0)
        out[n++] = '_';
    out[n] = '\0';
    return out;
}
