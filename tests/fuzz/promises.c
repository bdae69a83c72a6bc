#include "fuzz/promises.h"

#include <jansson.h>
#include <stdlib.h>
#include <string.h>

#include "base/csv.h"
#include "base/number.h"
#include "write/escape.h"

void must(bool holds, const char *promise, const char *where)
{
    if (holds)
        return;
    fprintf(stderr, "broken promise: %s (%s)\n", promise, where);
    abort();
}

void must_be_between(const struct sag_qty *qty, const char *where)
{
    double hair = 1e-9 * fabs(qty->value); /* of rounding, as the verdicts allow */
    if (sag_known(qty))
        must(qty->low <= qty->value + hair && qty->value <= qty->high + hair, "low <= value <= high", where);
}

/* --- messages --------------------------------------------------------------------------------------------------- */

static bool is_control(unsigned char c)
{
    return c < 0x20 || c == 0x7F;
}

/* The last two bytes of U+200B..U+200F, U+202A..U+202E or U+2066..U+2069 after an E2. */
static bool turns_text(const unsigned char *c)
{
    bool marks = c[0] == 0x80 && ((c[1] >= 0x8B && c[1] <= 0x8F) || (c[1] >= 0xAA && c[1] <= 0xAE));
    bool isolates = c[0] == 0x81 && c[1] >= 0xA6 && c[1] <= 0xA9;
    return marks || isolates;
}

void must_be_plain(const char *text, size_t size, const char *where)
{
    const unsigned char *c = (const unsigned char *)text;
    for (size_t i = 0; i < size; i++) {
        must(!is_control(c[i]) || c[i] == '\n', "no control bytes", where);
        must(!(c[i] == 0xC2 && i + 1 < size && c[i + 1] < 0xA0), "no control characters of Latin-1", where);
        must(!(c[i] == 0xE2 && i + 2 < size && turns_text(c + i + 1)), "no marks that turn text", where);
    }
}

void must_explain(enum sag_status status, const struct sag_diags *diags)
{
    must((status == SAG_BAD_INPUT) == (diags->errors > 0), "refused if and only if there is an error", "diagnostics");
    must(diags->count <= 3 * SAG_DIAGS_KEPT, "diagnostics are capped", "diagnostics");
    for (size_t i = 0; i < diags->count; i++) {
        const struct sag_diag *d = &diags->items[i];
        size_t length = strnlen(d->text, sizeof d->text);
        must(length > 0 && length < sizeof d->text, "a message has words and an end", "diagnostics");
        must(!memchr(d->text, '\n', length), "a message is one line", d->text);
        must_be_plain(d->text, length, "diagnostics");
    }
}

/* --- results ---------------------------------------------------------------------------------------------------- */

static bool has_fail(const struct sag_result *r, int which)
{
    for (size_t i = 0; i < r->finding_count; i++)
        if (r->findings[i].verdict == SAG_VERDICT_FAIL && r->findings[i].which == which)
            return true;
    return false;
}

static void check_case(const struct sag_result *r, int which)
{
    const struct sag_motor_case *c = &r->of[which];
    const char *word = sag_case_word((enum sag_case)which);
    if (!c->present)
        return;
    must_be_between(&c->supply_volts, "supply volts");
    must_be_between(&c->terminals.volts, "terminal volts");
    for (int i = 0; i < SAG_EFFECT_COUNT; i++) {
        const char *words = sag_effect_words((enum sag_effect_kind)i)->words;
        must_be_between(&c->effects.of[i].at_rated, words);
        must_be_between(&c->effects.of[i].at_case, words);
        must_be_between(&c->effects.of[i].change, words);
    }
    bool found = has_fail(r, which) || has_fail(r, SAG_CASE_COUNT);
    must((c->verdict == SAG_VERDICT_FAIL) == found, "fail if and only if a finding fails", word);
    must(c->band_verdict <= c->verdict, "the band is part of the verdict", word);
    must(c->verdict <= r->worst, "worst is the worst", word);
}

void must_be_finding(const struct sag_finding *f)
{
    must(f->check && f->source && f->missing, "a finding names check, source and what is missing", "finding");
    must(f->verdict > SAG_VERDICT_OK && f->verdict < SAG_VERDICT_COUNT, "a finding is not ok", f->check->name);
    must(f->which <= SAG_CASE_COUNT, "a finding is of a case", f->check->name);
    must(sag_known(&f->value) && !isnan(f->limit), "a finding has value and limit", f->check->name);
    must_be_between(&f->value, f->check->name);
}

void must_be_consistent(const struct sag_result *r)
{
    must(r->finding_count <= SAG_MOST_FINDINGS, "findings have room", "result");
    for (int i = 0; i < SAG_FACT_COUNT; i++)
        must_be_between(&r->motor.fact[i], sag_fact_words((enum sag_fact)i)->words);
    for (size_t i = 0; i < r->finding_count; i++)
        must_be_finding(&r->findings[i]);
    for (int i = 0; i < SAG_CASE_COUNT; i++)
        check_case(r, i);
}

/* --- what is printed -------------------------------------------------------------------------------------------- */

static bool is_word(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || (c & 0x80);
}

bool has_nan_word(const char *text, size_t size)
{
    for (size_t i = 0; i + 3 <= size; i++) {
        bool alone = (i == 0 || !is_word(text[i - 1])) && (i + 3 == size || !is_word(text[i + 3]));
        if (alone && (strncasecmp(text + i, "nan", 3) == 0 || strncasecmp(text + i, "inf", 3) == 0))
            return true;
    }
    return false;
}

struct readback {
    size_t rows, columns;
};

static enum sag_status count_row(void *context, const struct sag_row *row)
{
    struct readback *back = context;
    must(row->count == back->columns, "every row has all columns", "csv");
    for (size_t i = 0; i < row->count; i++) {
        const struct sag_cell *cell = &row->cells[i];
        double number;
        must(!cell->length || !strchr("=+-@\t\r", cell->text[0]) ||
                 sag_number_read(cell->text, cell->length, '.', &number) == SAG_NUMBER_OK,
             "no cell runs as a formula", "csv");
    }
    back->rows++;
    return SAG_OK;
}

static void read_csv_again(const struct printed *p)
{
    struct readback back = {.columns = p->columns};
    struct sag_diags diags = {0};
    struct sag_input input = {.name = "read again", .bytes = p->text, .size = p->size};
    enum sag_status status = sag_csv_read(&input, &(struct sag_csv_events){count_row, NULL, &back}, &diags);
    must(status == SAG_OK, "our own reader reads it", diags.count ? diags.items[0].text : "csv");
    must(back.rows == p->rows + 1, "a row for each result, and a header", "csv");
    sag_diags_free(&diags);
}

static void read_json_again(const struct printed *p)
{
    size_t rows = 0;
    for (size_t at = 0; at < p->size; rows++) {
        size_t length = strcspn(p->text + at, "\n");
        json_t *object = json_loadb(p->text + at, length, JSON_REJECT_DUPLICATES, NULL);
        must(json_object_size(object) == p->columns, "a line is one object with all names", "json");
        json_decref(object);
        at += length + 1;
    }
    must(rows == p->rows, "a line for each result", "json");
}

void must_be_readable(const struct printed *p)
{
    must(p->says_nan || !has_nan_word(p->text, p->size), "no number is printed that is none", p->format);
    if (strcmp(p->format, "csv") == 0)
        read_csv_again(p);
    else if (strcmp(p->format, "json") == 0)
        read_json_again(p);
    else
        must_be_plain(p->text, p->size, p->format);
}

static void check_gnuplot(const char *text, size_t size)
{
    must(size >= 2 && text[0] == '\'' && text[size - 1] == '\'', "a quoted string", "gnuplot");
    for (size_t i = 1; i + 1 < size; i++)
        must(!strchr("'\"`$\\@\n\r", text[i]), "nothing that ends or expands the string", "gnuplot");
}

void must_be_caged(const char *tag)
{
    char *text = NULL, name[100];
    size_t size = 0;
    FILE *stream = open_memstream(&text, &size);
    must(stream != NULL, "memory", "gnuplot");
    put_gnuplot(stream, tag);
    fclose(stream);
    check_gnuplot(text, size);
    free(text);
    put_file_name(name, sizeof name, tag);
    must(*name && *name != '.' && *name != '-' && !strchr(name, '/'), "a plain file name", "file name");
}
