#include "read/columns.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/number.h"

enum {
    NAME_ROOM = 64 /* of a header cell; longer ones match nothing */
};

static char lower(char c)
{
    return (char)(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
}

bool same_word(const char *left, const char *right)
{
    while (*left && lower(*left) == lower(*right)) {
        left++;
        right++;
    }
    return lower(*left) == lower(*right);
}

/* Edit distance, a swap of neighbours counted as two; both words shorter than NAME_ROOM. */
static int distance(const char *left, const char *right)
{
    int row[NAME_ROOM + 1];
    int n = (int)strlen(right);
    for (int j = 0; j <= n; j++)
        row[j] = j;
    for (int i = 1; left[i - 1]; i++) {
        int diagonal = row[0];
        row[0] = i;
        for (int j = 1; j <= n; j++) {
            int change = diagonal + (lower(left[i - 1]) != lower(right[j - 1]));
            diagonal = row[j];
            int insert = row[j - 1] + 1, drop = row[j] + 1;
            row[j] = change < insert ? (change < drop ? change : drop) : (insert < drop ? insert : drop);
        }
    }
    return row[n];
}

/* A column's unit is often left off: "efficency" is meant for efficiency_pct. */
static int distance_to(const char *word, const char *candidate)
{
    char stem[NAME_ROOM];
    int whole = distance(word, candidate);
    const char *suffix = strrchr(candidate, '_');
    if (!suffix)
        return whole;
    snprintf(stem, sizeof stem, "%.*s", (int)(suffix - candidate), candidate);
    int without = distance(word, stem) + 1;
    return without < whole ? without : whole;
}

const char *nearest_word(const char *word, candidate_fn *next, const void *context)
{
    const char *best = NULL;
    int length = (int)strlen(word);
    int least = length < 7 ? 1 : (length + 1) / 4; /* further off than that is no help to anyone */
    if (length >= NAME_ROOM)
        return NULL;
    for (size_t i = 0;; i++) {
        const char *candidate = next(context, i);
        if (!candidate)
            return best;
        int d = strlen(candidate) < NAME_ROOM ? distance_to(word, candidate) : least + 1;
        if (d <= least && (!best || d < least)) {
            least = d;
            best = candidate;
        }
    }
}

static const char *column_name(const void *context, size_t index)
{
    const struct column_set *set = context;
    return index < (size_t)set->count ? set->columns[index].name : NULL;
}

/* "Rated Volts" and "rated-volts" are rated_volts. */
static void as_name(const char *cell, char out[NAME_ROOM])
{
    snprintf(out, NAME_ROOM, "%s", cell);
    for (char *c = out; *c; c++)
        if (*c == ' ' || *c == '-')
            *c = '_';
}

/* Heads that people use, for the question "did you mean". */
static const char *usual_head(const char *name)
{
    static const struct {
        const char *head, *column;
    } usual[] = {
        {"hp", "rated_hp"},
        {"kw", "rated_kw"},
        {"horsepower", "rated_hp"},
        {"volts", "rated_volts"},
        {"v", "rated_volts"},
        {"voltage", "rated_volts"},
        {"amps", "rated_amps"},
        {"fla", "rated_amps"},
        {"eff", "efficiency_pct"},
        {"efficiency", "efficiency_pct"},
        {"pf", "power_factor"},
        {"sf", "service_factor"},
        {"ins", "insulation"},
        {"code", "code_letter"},
        {"lra", "locked_amps"},
        {"name", "tag"},
        {"motor", "tag"},
        {"freq", "hz"},
        {"frequency", "hz"},
        {"speed", "rpm"},
        {"ph", "phases"},
        {"phase", "phases"},
        {"kva_code", "code_letter"},
        {"panel", "feeder"},
        {"timestamp", "time"},
        {"datetime", "time"},
        {"date", "time"},
        {"v_ab", "ab"},
        {"v_bc", "bc"},
        {"v_ca", "ca"},
        {"l1_l2", "ab"},
        {"l2_l3", "bc"},
        {"l3_l1", "ca"},
        {"u12", "ab"},
        {"u23", "bc"},
        {"u31", "ca"},
    };
    for (size_t i = 0; i < sizeof usual / sizeof *usual; i++)
        if (same_word(usual[i].head, name))
            return usual[i].column;
    return NULL;
}

static int find_column(const struct column_set *set, const char *cell)
{
    char name[NAME_ROOM];
    as_name(cell, name);
    for (int i = 0; i < set->count; i++)
        if (same_word(set->columns[i].name, name))
            return i;
    return -1;
}

enum sag_status map_header(const struct column_set *set, const struct sag_row *row, const char *file,
                           struct column_map *map, struct sag_diags *diags)
{
    enum sag_status status = SAG_OK;
    struct sag_place at = {file, row->line, 0};
    struct sag_shown shown;
    *map = (struct column_map){0};
    if (row->count > MAX_FILE_COLUMNS)
        return sag_complain(diags, SAG_ERROR, &at, "%zu columns; no list has more than %d", row->count,
                            MAX_FILE_COLUMNS);
    map->count = row->count;
    for (size_t i = 0; i < row->count; i++) {
        const struct sag_cell *cell = &row->cells[i];
        at.column = (uint32_t)i + 1;
        map->column[i] = cell->length ? find_column(set, cell->text) : -1;
        if (cell->length && map->column[i] < 0) {
            char name[NAME_ROOM];
            as_name(cell->text, name);
            const char *near = usual_head(name);
            if (!near || find_column(set, near) < 0)
                near = nearest_word(name, column_name, set);
            sag_complain(diags, SAG_WARNING, &at, "column \"%s\" is ignored%s%s%s",
                         sag_shown(&shown, cell->text, cell->length), near ? "; did you mean " : "", near ? near : "",
                         near ? "?" : "");
        }
        for (size_t j = 0; j < i && map->column[i] >= 0; j++)
            if (map->column[j] == map->column[i])
                status = sag_complain(diags, SAG_ERROR, &at, "column %s stands twice (first in column %zu)",
                                      set->columns[map->column[i]].name, j + 1);
    }
    return status;
}

uint32_t cell_of(const struct column_set *set, const struct column_map *map, const char *name)
{
    int column = find_column(set, name);
    for (size_t i = 0; i < map->count; i++)
        if (map->column[i] == column)
            return (uint32_t)i + 1;
    return 0;
}

bool has_column(const struct column_set *set, const struct column_map *map, const char *name)
{
    return cell_of(set, map, name) != 0;
}

/* Taking one cell: everything that a message may want to name. */
struct taking {
    const struct column_set *set;
    const struct column *column;
    const struct sag_cell *cell;
    const struct sag_place *at;
    char mark;
    struct sag_diags *diags;
};

static enum sag_status refuse(const struct taking *t, const char *why, const char *better)
{
    struct sag_shown shown;
    return sag_complain(t->diags, SAG_ERROR, t->at, "%s: \"%s\" %s%s", t->column->name,
                        sag_shown(&shown, t->cell->text, t->cell->length), why, better);
}

/* What the cell would have to say; "" when that cannot be told. */
static const char *mended(const struct taking *t, enum sag_number_fault fault, char out[SAG_NUMBER_ROOM])
{
    size_t n = 0;
    double value = 0;
    if (fault == SAG_NUMBER_THOUSANDS && sag_number_ungroup(t->cell->text, t->cell->length, t->mark, out))
        return out;
    for (size_t i = 0; i < t->cell->length && n + 1 < SAG_NUMBER_ROOM; i++) {
        char c = t->cell->text[i];
        bool mark = (c == '.' || c == ',') && fault == SAG_NUMBER_MARK;
        bool kept = (c >= '0' && c <= '9') || c == '-' || (c == t->mark && fault == SAG_NUMBER_UNIT);
        if (kept || mark)
            out[n++] = mark ? t->mark : c;
        else
            break;
    }
    out[n] = '\0';
    return sag_number_read(out, n, t->mark, &value) == SAG_NUMBER_OK ? out : "";
}

static enum sag_status refuse_number(const struct taking *t, enum sag_number_fault fault)
{
    char text[SAG_NUMBER_ROOM], advice[SAG_NUMBER_ROOM + 16] = "";
    const char *better = mended(t, fault, text);
    if (*better)
        snprintf(advice, sizeof advice, "; write %s", better);
    switch (fault) {
    case SAG_NUMBER_UNIT:
        if (memchr(t->cell->text, '/', t->cell->length))
            return refuse(t, "is more than one number; write one, a fraction as a decimal, for the volts in use", "");
        if (*t->column->unit == '\0' && memchr(t->cell->text, '%', t->cell->length))
            return refuse(t, "is a percentage; write the number that it is, 0.86 for 86 %", "");
        return refuse(t, "has more than a number in the cell", advice);
    case SAG_NUMBER_MARK:
        return refuse(t,
                      t->mark == '.' ? "has a decimal comma in a comma-separated file"
                                     : "has a decimal mark that this file does not use",
                      advice);
    case SAG_NUMBER_THOUSANDS:
        return refuse(t, "groups digits by thousands", advice);
    case SAG_NUMBER_OUT_OF_RANGE:
        return refuse(t, "is too large to be a number on a plate", "");
    default:
        return refuse(t, "is not a number; write one, or leave the cell blank", "");
    }
}

static enum sag_status refuse_range(const struct taking *t)
{
    char low[SAG_NUMBER_ROOM], high[SAG_NUMBER_ROOM], range[3 * SAG_NUMBER_ROOM];
    snprintf(range, sizeof range, "%s to %s%s%s", sag_number_figures(low, t->column->low, 6),
             sag_number_figures(high, t->column->high, 6), *t->column->unit ? " " : "", t->column->unit);
    return refuse(t, "is outside ", range);
}

static enum sag_status check_number(const struct taking *t, double value)
{
    char text[SAG_NUMBER_ROOM];
    struct sag_shown shown;
    const char *cell = sag_shown(&shown, t->cell->text, t->cell->length);
    const double least_percent = 10; /* 85 is a percent, 1.2 is a slip of another kind */
    if (t->column->kind == COLUMN_PERCENT && value > 0 && value <= 1)
        return sag_complain(t->diags, SAG_ERROR, t->at, "%s: %s looks like a fraction; write %s", t->column->name, cell,
                            sag_number_figures(text, 100 * value, 6));
    if (t->column->kind == COLUMN_SHARE && value >= least_percent && value <= 100)
        return sag_complain(t->diags, SAG_ERROR, t->at, "%s: %s looks like a percent; write %s", t->column->name, cell,
                            sag_number_figures(text, value / 100, 6));
    if (value < t->column->low || value > t->column->high)
        return refuse_range(t);
    if (t->column->kind == COLUMN_WHOLE && value != floor(value))
        return refuse(t, "must be a whole number", "");
    return SAG_OK;
}

static enum sag_status take_number(const struct taking *t, double *given)
{
    const double same = 0.03; /* hp and kW on one plate are both rounded */
    double value = 0;
    enum sag_number_fault fault = sag_number_read(t->cell->text, t->cell->length, t->mark, &value);
    if (fault != SAG_NUMBER_OK)
        return refuse_number(t, fault);
    enum sag_status status = check_number(t, value);
    if (status != SAG_OK)
        return status;
    value *= t->column->scale;
    double *slot = &given[t->column->target];
    if (!isnan(*slot) && fabs(value - *slot) > same * fabs(*slot)) {
        char text[SAG_NUMBER_ROOM];
        return refuse(t, "disagrees with another column of this row, which makes it ",
                      sag_number_figures(text, *slot / t->column->scale, 5));
    }
    if (isnan(*slot))
        *slot = value;
    return SAG_OK;
}

struct words_of {
    column_word_fn *word;
    int choice;
};

static const char *choice_word(const void *context, size_t index)
{
    const struct words_of *words = context;
    return words->word(words->choice, (unsigned)index + 1);
}

static enum sag_status take_choice(const struct taking *t, uint8_t *choice)
{
    struct words_of words = {t->set->word, t->column->target};
    char list[160] = "";
    for (size_t i = 0; choice_word(&words, i); i++) {
        const char *word = choice_word(&words, i);
        if (same_word(word, t->cell->text)) {
            choice[t->column->target] = (uint8_t)(i + 1);
            return SAG_OK;
        }
        size_t used = strlen(list);
        snprintf(list + used, sizeof list - used, "%s%s", i ? ", " : "", word);
    }
    const char *near = t->cell->length > 2 ? nearest_word(t->cell->text, choice_word, &words) : NULL;
    char better[240];
    snprintf(better, sizeof better, "%s%s%s%s", list, near ? "; did you mean " : "", near ? near : "", near ? "?" : "");
    return refuse(t, "is not one of ", better);
}

static enum sag_status take_cell(const struct taking *t, const struct record *record)
{
    switch (t->column->kind) {
    case COLUMN_CHOICE:
        return take_choice(t, record->choice);
    case COLUMN_TEXT:
        return t->set->text(record->reader, t->column, t->cell, t->at);
    default:
        return take_number(t, record->given);
    }
}

enum sag_status take_row(const struct column_set *set, const struct column_map *map, const struct sag_row *row,
                         const char *file, const struct record *record, struct sag_diags *diags)
{
    enum sag_status status = SAG_OK;
    struct sag_place at = {file, row->line, 0};
    struct sag_shown shown;
    for (size_t i = 0; i < row->count; i++) {
        const struct sag_cell *cell = &row->cells[i];
        at.column = (uint32_t)i + 1;
        if (cell->length == 0)
            continue;
        enum sag_status one = SAG_OK;
        if (i >= map->count)
            one =
                sag_complain(diags, SAG_ERROR, &at, "\"%s\" stands beyond the last of %zu columns; an unquoted comma?",
                             sag_shown(&shown, cell->text, cell->length), map->count);
        else if (map->column[i] >= 0)
            one = take_cell(&(struct taking){set, &set->columns[map->column[i]], cell, &at, row->mark, diags}, record);
        status = one != SAG_OK ? one : status;
    }
    return status;
}
