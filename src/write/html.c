#include "write/html.h"

#include <string.h>

#include "report_style.h"
#include "write/escape.h"

void put_verdict(FILE *f, const char *word)
{
    static const char *const known[] = {"ok", "watch", "unknown", "fail"};
    const char *kind = "none";
    for (size_t i = 0; i < sizeof known / sizeof *known; i++)
        if (strcmp(word, known[i]) == 0)
            kind = known[i];
    fprintf(f, "<span class=\"v %s\">", kind);
    put_html(f, word);
    fputs("</span>", f);
}

void put_sentence(FILE *f, const char *text, const char *const words[])
{
    size_t used = 0;
    while (*text) {
        size_t n = strcspn(text, "%");
        fwrite(text, 1, n, f);
        text += n;
        if (text[0] == '%' && text[1] == 's') {
            put_html(f, words[used++]);
            text += 2;
        } else if (*text) {
            fputc(*text++, f);
        }
    }
}

void begin_page(FILE *f, const char *title)
{
    fputs("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
          "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
          "<meta name=\"color-scheme\" content=\"light dark\">\n"
          "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n"
          "<title>",
          f);
    put_html(f, title);
    fputs("</title>\n<style>\n", f);
    fwrite(report_style, 1, sizeof report_style, f);
    fputs("</style>\n</head>\n<body>\n", f);
}

void end_page(FILE *f)
{
    fputs("</body>\n</html>\n", f);
}

void begin_table(FILE *f, const char *more, const char *caption)
{
    fprintf(f, "<div class=\"wide%s%s\" role=\"region\" tabindex=\"0\" aria-label=\"", *more ? " " : "", more);
    put_html(f, caption);
    fputs("\"><table><caption>", f);
    put_html(f, caption);
    fputs("</caption><thead><tr>", f);
}

void begin_rows(FILE *f)
{
    fputs("</tr></thead><tbody>\n", f);
}

void end_table(FILE *f)
{
    fputs("</tbody></table></div>\n", f);
}

void begin_section(FILE *f, int level, const char *id, const char *heading)
{
    fputs("<section id=\"", f);
    put_html(f, id);
    fprintf(f, "\"><h%d>", level);
    put_html(f, heading);
    fprintf(f, "</h%d>\n", level);
}

void end_section(FILE *f)
{
    fputs("</section>\n", f);
}
