#include "write/sheet.h"

#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/number.h"

const char *sheet_text(struct sag_lines *lines, const char *format, ...)
{
    char text[512];
    va_list args;
    va_start(args, format);
    vsnprintf(text, sizeof text, format, args);
    va_end(args);
    const char *copy = lines->arena ? sag_arena_text(lines->arena, text, strlen(text)) : NULL;
    lines->failed = lines->failed || !copy;
    return copy ? copy : "";
}

const char *sheet_number(struct sag_lines *lines, double value, int figures)
{
    char number[SAG_NUMBER_ROOM];
    return sheet_text(lines, "%s", sag_number_figures(number, value, figures));
}

static bool is_letter(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_';
}

static bool is_word_part(char c)
{
    return is_letter(c) || (c >= '0' && c <= '9');
}

static bool find_symbol(const struct symbols *s, const char *name, size_t length, double *value, int *figures)
{
    for (size_t i = 0; i < s->count; i++)
        if (strlen(s->extra[i].name) == length && memcmp(s->extra[i].name, name, length) == 0) {
            *value = s->extra[i].value;
            *figures = s->extra[i].figures;
            return true;
        }
    for (int f = 0; f < SAG_FACT_COUNT && s->motor; f++) {
        const struct sag_fact_words *words = sag_fact_words((enum sag_fact)f);
        if (strlen(words->symbol) == length && memcmp(words->symbol, name, length) == 0) {
            *value = s->motor->fact[f].value;
            *figures = words->figures;
            return !isnan(*value);
        }
    }
    return false;
}

/* A look-up or a default is told in words; only arithmetic has numbers to put in. */
static bool is_arithmetic(const char *formula)
{
    return strpbrk(formula, "*/") || strstr(formula, " - ");
}

/* The formula with every known symbol replaced by its value; "" when none was. */
static const char *put_numbers_in(struct sag_lines *lines, const struct symbols *symbols, const char *formula)
{
    char text[512];
    size_t used = 0;
    bool changed = false;
    if (!is_arithmetic(formula))
        return "";
    for (const char *at = formula; *at && used + SAG_NUMBER_ROOM < sizeof text;) {
        size_t n = 0;
        double value = NAN;
        int figures = 0;
        while (is_letter(*at) && is_word_part(at[n]))
            n++;
        if (n && find_symbol(symbols, at, n, &value, &figures)) {
            sag_number_figures(text + used, value, figures);
            used += strlen(text + used);
            changed = true;
        } else {
            n = n ? n : 1;
            if (used + n >= sizeof text)
                break;
            memcpy(text + used, at, n);
            used += n;
        }
        at += n;
    }
    text[used] = '\0';
    return changed ? sheet_text(lines, "%s", text) : "";
}

/* "(from memory)" is said of a look-up; arithmetic only rests on numbers that are. */
static const char *source_words(struct sag_lines *lines, const struct sag_qty *value)
{
    const struct sag_rule *rule = value->rule;
    if (!rule)
        return "";
    const char *memory = !value->from_memory ? ""
                         : rule->table       ? " (from memory)"
                                             : "; rests on a table entry from memory";
    return sheet_text(lines, "%s%s%s%s", rule->source, rule->table ? "; table " : "", rule->table ? rule->table : "",
                      memory);
}

static const char *or_empty(const char *text)
{
    return text ? text : "";
}

void add_line(struct sag_lines *lines, const struct symbols *symbols, struct sag_line line)
{
    if (lines->count == lines->room) {
        size_t room = lines->room ? 2 * lines->room : 64;
        struct sag_line *items = realloc(lines->items, room * sizeof *items);
        lines->failed = lines->failed || !items;
        if (!items)
            return;
        lines->items = items;
        lines->room = room;
    }
    const struct sag_rule *rule = line.value.rule;
    if (!line.formula)
        line.formula = rule ? rule->formula : "";
    if (!line.numbers)
        line.numbers = put_numbers_in(lines, symbols, line.formula);
    if (!line.source)
        line.source = source_words(lines, &line.value);
    if (!line.origin)
        line.origin = sag_known(&line.value) ? sag_origin_words((enum sag_origin)line.value.origin) : "";
    line.note = or_empty(line.note);
    line.unit = or_empty(line.unit);
    line.symbol = or_empty(line.symbol);
    line.words = or_empty(line.words);
    lines->items[lines->count++] = line;
}

void sag_lines_free(struct sag_lines *lines)
{
    free(lines->items);
    sag_arena_free(lines->arena);
    *lines = (struct sag_lines){0};
}
