/* A picture of gnuplot's put into a page. Its names (id and what points to them) get a name of their own in front,
   since all pictures of a page share one room; titles, which gnuplot fills with numbers, go. Only the elements that
   such a picture is made of are let through: what stands in a list ends up in these files, and a page runs whatever it
   holds. */
#include <ctype.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "base/number.h"
#include "write/escape.h"
#include "write/html.h"

enum {
    MOST_BYTES = 64 * 1024 * 1024
};

static char *read_text(const char *path)
{
    FILE *file = fopen(path, "rb");
    char *text = NULL;
    long size = -1;
    if (file && fseek(file, 0, SEEK_END) == 0)
        size = ftell(file);
    if (size > 0 && size <= MOST_BYTES && fseek(file, 0, SEEK_SET) == 0)
        text = malloc((size_t)size + 1);
    if (text && fread(text, 1, (size_t)size, file) == (size_t)size) {
        text[size] = '\0';
    } else {
        free(text);
        text = NULL;
    }
    if (file)
        fclose(file);
    return text;
}

struct tag {
    const char *begin, *end; /* from '<' to behind '>' */
    char name[16];           /* without '/' */
    bool closes;
};

static bool next_tag(const char *text, struct tag *tag)
{
    size_t n = 0;
    tag->begin = strchr(text, '<');
    tag->end = tag->begin ? strchr(tag->begin, '>') : NULL;
    if (!tag->end)
        return false;
    const char *at = tag->begin + 1;
    tag->closes = *at == '/';
    for (at += tag->closes; isalpha((unsigned char)*at) && n + 1 < sizeof tag->name; at++)
        tag->name[n++] = *at;
    tag->name[n] = '\0';
    tag->end++;
    return true;
}

/* An attribute that would run or fetch something: on...=, and links that leave the picture. */
static bool is_harmful(const struct tag *tag)
{
    for (const char *at = tag->begin; at < tag->end; at++) {
        bool at_name = isspace((unsigned char)at[0]) || at[0] == '/' || at[0] == '\'' || at[0] == '"';
        if (at_name && strncasecmp(at + 1, "on", 2) == 0)
            return true;
        if (strncasecmp(at, "href=", 5) == 0 && strncmp(at + 5, "'#", 2) != 0 && strncmp(at + 5, "\"#", 2) != 0)
            return true;
        if (strncasecmp(at, "url(", 4) == 0 && at[4] != '#')
            return true;
    }
    return false;
}

static bool is_known(const struct tag *tag)
{
    static const char *const known[] = {"svg",  "g",     "path",        "text",     "tspan",  "use",    "polygon",
                                        "rect", "line",  "polyline",    "circle",   "defs",   "filter", "feFlood",
                                        "desc", "title", "feComposite", "clipPath", "pattern"};
    for (size_t i = 0; i < sizeof known / sizeof *known; i++)
        if (strcmp(tag->name, known[i]) == 0)
            return true;
    return false;
}

/* Behind which of these a name of the picture begins; 0: none. */
static size_t before_name(const char *at)
{
    static const char *const marks[] = {" id='", " id=\"", "href='#", "href=\"#", "url(#"};
    for (size_t i = 0; i < sizeof marks / sizeof *marks; i++)
        if (strncmp(at, marks[i], strlen(marks[i])) == 0)
            return strlen(marks[i]);
    return 0;
}

static void put_tag(FILE *f, const struct tag *tag, const char *name)
{
    for (const char *at = tag->begin; at < tag->end;) {
        size_t n = before_name(at);
        fwrite(at, 1, n ? n : 1, f);
        if (n)
            fprintf(f, "%s-", name);
        at += n ? n : 1;
    }
}

/* A size in viewBox="0 0 WIDE TALL", the one that ends at `mark`; NULL: it is none that a page can take.
   Returns what is behind the mark. */
static const char *read_size(const char *text, char mark, double *out)
{
    const char *end = strchr(text, mark);
    bool well = end && sag_number_read(text, (size_t)(end - text), '.', out) == SAG_NUMBER_OK && *out > 0;
    return well ? end + 1 : NULL;
}

/* The picture's own <svg>, with its size as the most that it takes. */
static bool put_frame(FILE *f, const struct tag *tag, const char *alt)
{
    static const char begin[] = "viewBox=\"0 0 ";
    double wide = 0, tall = 0;
    const char *box = strstr(tag->begin, begin);
    box = box ? read_size(box + sizeof begin - 1, ' ', &wide) : NULL;
    box = box ? read_size(box, '"', &tall) : NULL;
    if (!box || box > tag->end)
        return false;
    fprintf(f, "<svg viewBox=\"0 0 %.0f %.0f\" style=\"max-width:%.0fpx\" role=\"img\" aria-label=\"", wide, tall,
            wide);
    put_html(f, alt);
    fputs("\">", f);
    return true;
}

static bool put_tags(FILE *f, const char *text, const char *name, const char *alt)
{
    struct tag tag;
    bool inside = false;
    for (; next_tag(text, &tag); text = tag.end) {
        bool words = strcmp(tag.name, "title") == 0 || strcmp(tag.name, "desc") == 0;
        if (inside && (!words || !tag.closes)) /* what stands in a title goes with it */
            fwrite(text, 1, (size_t)(tag.begin - text), f);
        if (!inside && strcmp(tag.name, "svg") == 0) {
            inside = put_frame(f, &tag, alt);
            if (!inside)
                return false;
        } else if (inside && (!is_known(&tag) || is_harmful(&tag))) {
            return false;
        } else if (inside && !words) {
            put_tag(f, &tag, name);
        }
        if (tag.closes && strcmp(tag.name, "svg") == 0)
            return inside;
    }
    return false;
}

enum sag_status put_picture(FILE *f, const char *path, const char *name, const char *alt)
{
    char *text = read_text(path), *made = NULL;
    size_t size = 0;
    bool whole = false;
    FILE *room = text ? open_memstream(&made, &size) : NULL; /* a picture is there whole or not at all */
    if (room) {
        whole = put_tags(room, text, name, alt);
        whole = fclose(room) == 0 && whole;
    }
    if (whole) {
        fputs("<div class=\"pic\" role=\"region\" tabindex=\"0\" aria-label=\"Picture\">", f);
        fwrite(made, 1, size, f);
        fputs("</div>\n", f);
    }
    free(made);
    free(text);
    return whole ? SAG_OK : SAG_IO;
}
