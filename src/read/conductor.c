#include "read/conductor.h"

#include <string.h>

#include "base/number.h"
#include "read/columns.h"

static const char *size_name(const void *context, size_t index)
{
    const struct sag_table *sizes = context;
    return index < sizes->rows ? sizes->cells[index * sizes->columns] : NULL;
}

static bool is_metric_size(const struct sag_cell *cell)
{
    const double least = 0.5, most = 1000; /* mm2 */
    double area = 0;
    return cell->length > 3 && strcmp(cell->text + cell->length - 3, "mm2") == 0 &&
           sag_number_read(cell->text, cell->length - 3, '.', &area) == SAG_NUMBER_OK && area >= least && area <= most;
}

enum sag_status check_conductor(const struct sag_tables *tables, const char *column, const struct sag_cell *cell,
                                const struct sag_place *at, struct sag_diags *diags)
{
    const struct sag_table *sizes = sag_tables_find(tables, "ch9_t9_ac_impedance");
    struct sag_shown shown;
    bool known = is_metric_size(cell);
    for (size_t i = 0; sizes && size_name(sizes, i) && !known; i++)
        known = strcmp(size_name(sizes, i), cell->text) == 0;
    if (known)
        return SAG_OK;
    sag_shown(&shown, cell->text, cell->length);
    bool bare = cell->text[strspn(cell->text, "0123456789")] == '\0';
    const char *near = bare || !sizes ? NULL : nearest_word(cell->text, size_name, sizes);
    if (near)
        return sag_complain(diags, SAG_ERROR, at, "%s: \"%s\" is not a size of the conductor tables; did you mean %s?",
                            column, shown.text, near);
    return sag_complain(diags, SAG_ERROR, at,
                        "%s: \"%s\" is not a size of the conductor tables; write 12, 4/0, 250 (kcmil), or for metric "
                        "%smm2",
                        column, shown.text, bare ? shown.text : "95");
}
