#include "write/escape.h"

#include <stdbool.h>
#include <string.h>

#include "base/text.h"

/* The wide forms of the four signs are read like them by sheets that are set to East Asian languages. */
static bool runs_as_formula(const char *text)
{
    static const char *const wide[] = {"\xEF\xBC\x9D", "\xEF\xBC\x8B", "\xEF\xBC\x8D", "\xEF\xBC\xA0"};
    bool runs = *text && strchr("=+-@\t\r\n", *text);
    for (size_t i = 0; i < sizeof wide / sizeof *wide; i++)
        runs = runs || strncmp(text, wide[i], strlen(wide[i])) == 0;
    return runs;
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

static void put_character(FILE *stream, const char *text, size_t n)
{
    if (sag_is_unseen(text, n))
        fputc('?', stream);
    else
        fwrite(text, 1, n, stream);
}

void put_plain(FILE *stream, const char *text)
{
    for (size_t n; (n = sag_character(text)) > 0; text += n)
        put_character(stream, text, n);
}

int text_width(const char *text)
{
    int width = 0;
    for (size_t n; (n = sag_character(text)) > 0; text += n)
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
        size_t n = sag_character(text);
        put_character(stream, text, n);
        text += n;
    }
    if (have > width)
        fputc('~', stream);
    for (int i = have; !left_pad && i < width; i++)
        fputc(' ', stream);
}

static const char *html_entity(char c)
{
    switch (c) {
    case '&':
        return "&amp;";
    case '<':
        return "&lt;";
    case '>':
        return "&gt;";
    case '"':
        return "&quot;";
    case '\'':
        return "&#39;";
    default:
        return NULL;
    }
}

static void put_html_character(FILE *stream, const char *text, size_t n)
{
    const char *entity = n == 1 ? html_entity(*text) : NULL;
    if (entity)
        fputs(entity, stream);
    else
        put_character(stream, text, n);
}

void put_html(FILE *stream, const char *text)
{
    enum {
        LONGEST = 400
    };
    int shown = 0;
    for (size_t n; (n = sag_character(text)) > 0 && shown < LONGEST; text += n, shown++)
        put_html_character(stream, text, n);
    fputs(*text ? "~" : "", stream);
}

void put_html_block(FILE *stream, const char *text)
{
    for (size_t n; (n = sag_character(text)) > 0; text += n)
        if (*text == '\n')
            fputc('\n', stream);
        else
            put_html_character(stream, text, n);
}

void put_gnuplot(FILE *stream, const char *text)
{
    enum {
        LONGEST = 60
    };
    int shown = 0;
    fputc('\'', stream);
    for (size_t n; (n = sag_character(text)) > 0 && shown < LONGEST; text += n, shown++) {
        if (sag_is_unseen(text, n))
            fputc(' ', stream);
        else if (n == 1 && strchr("'\"", *text))
            fputs("\xE2\x80\x99", stream); /* a raised comma that ends no string */
        else if (n == 1 && strchr("`$\\@", *text))
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

char *put_cut(char *out, size_t room, const char *text, int width)
{
    size_t used = 0;
    int shown = 0;
    bool cut = text_width(text) > width;
    for (size_t n; (n = sag_character(text)) > 0 && shown < width - cut && used + n + 2 < room; text += n, shown++) {
        memcpy(out + used, text, n);
        used += n;
    }
    memcpy(out + used, cut ? "~" : "", cut ? 2 : 1);
    return out;
}
