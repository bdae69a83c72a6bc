#include <math.h>
#include <string.h>

#include "tables/parts.h"

double sag_table_number(const struct used_table *used, size_t row, int column)
{
    return used->table->numbers[row * used->table->columns + used->column[column]];
}

const char *sag_table_text(const struct used_table *used, size_t row, int column)
{
    return used->table->cells[row * used->table->columns + used->column[column]];
}

static bool meets(const struct used_table *used, size_t row, const struct row_filter filters[], int filter_count)
{
    for (int i = 0; i < filter_count; i++) {
        const struct row_filter *f = &filters[i];
        if (f->text ? strcmp(sag_table_text(used, row, f->column), f->text) != 0
                    : sag_table_number(used, row, f->column) != f->number)
            return false;
    }
    return true;
}

struct bracket sag_bracket(const struct used_table *used, int along, double at, const struct row_filter filters[],
                           int filter_count)
{
    double low = -INFINITY, high = INFINITY;
    struct bracket b = {0};
    for (size_t row = 0; row < used->table->rows; row++) {
        double x = sag_table_number(used, row, along);
        if (isnan(x) || !meets(used, row, filters, filter_count))
            continue;
        b.found = true;
        if (x <= at && x > low) {
            low = x;
            b.below = row;
        }
        if (x >= at && x < high) {
            high = x;
            b.above = row;
        }
    }
    if (isinf(low))
        b.below = b.above;
    if (isinf(high))
        b.above = b.below;
    b.beyond = b.found && (isinf(low) || isinf(high));
    b.weight = b.beyond || high <= low ? 0 : (at - low) / (high - low);
    return b;
}

struct sag_answer sag_no_answer(void)
{
    return (struct sag_answer){.value = NAN, .low = NAN, .high = NAN};
}

struct sag_answer sag_answer_row(const struct used_table *used, size_t row, int column, double scale)
{
    struct bracket on_row = {.below = row, .above = row, .found = true};
    return sag_answer_between(used, &on_row, column, scale);
}

struct sag_answer sag_answer_between(const struct used_table *used, const struct bracket *bracket, int column,
                                     double scale)
{
    if (!bracket->found)
        return sag_no_answer();
    double below = sag_table_number(used, bracket->below, column);
    double above = sag_table_number(used, bracket->above, column);
    double value = scale * (bracket->weight > 0 ? below + bracket->weight * (above - below) : below);
    return (struct sag_answer){
        .value = value,
        .low = value,
        .high = value,
        .table = used->table,
        .from_memory = used->table->from_memory[bracket->below] || used->table->from_memory[bracket->above],
        .beyond = bracket->beyond,
    };
}

size_t sag_row_named(const struct used_table *used, const char *name)
{
    for (size_t row = 0; row < used->table->rows; row++)
        if (strcmp(sag_table_text(used, row, 0), name) == 0)
            return row;
    return used->table->rows;
}

struct sag_answer sag_answer_named(const struct used_table *used, const char *name)
{
    size_t row = sag_row_named(used, name);
    if (row == used->table->rows)
        return sag_no_answer();
    struct sag_answer answer = sag_answer_row(used, row, 1, 1);
    answer.low = sag_table_number(used, row, 2);
    answer.high = sag_table_number(used, row, 3);
    return answer;
}
