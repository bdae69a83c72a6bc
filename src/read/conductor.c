#include "read/conductor.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/number.h"
#include "sagband/facts.h"

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

/* Rising with the conductor: gauge numbers 14 to 1 fall, 1/0 to 4/0 are in between, kcmil begin at 250. NAN: no size.
 */
static double rank(const char *size)
{
    const double least_kcmil = 250, widest_gauge = 14;
    double number = 0;
    size_t length = strcspn(size, "/");
    if (sag_number_read(size, length, '.', &number) != SAG_NUMBER_OK)
        return NAN;
    if (size[length])
        return number;
    return number >= least_kcmil ? number : number <= widest_gauge ? -number : NAN;
}

/* "600 and 750", the sizes of the tables around a bare number that could be one; "" when it could not. */
static const char *neighbours(const struct sag_table *sizes, const char *size, char out[40])
{
    const char *below = NULL;
    double at = rank(size);
    out[0] = '\0';
    for (size_t i = 0; !isnan(at) && size_name(sizes, i); i++) {
        const char *name = size_name(sizes, i);
        if (rank(name) > at) {
            snprintf(out, 40, "%s%s%s", below ? below : "", below ? " and " : "", name);
            return out;
        }
        below = name;
    }
    if (!isnan(at) && below)
        snprintf(out, 40, "%s", below);
    return out;
}

/* "#2", "2AWG", "500kcmil": the size between what people write around it. */
static const char *meant_size(const struct sag_table *sizes, const char *text)
{
    static const char *const tails[] = {"", "awg", "AWG", " AWG", " awg", "kcmil", " kcmil", "mcm", "MCM", " MCM"};
    const char *from = *text == '#' ? text + 1 : text;
    for (size_t i = 0; sizes && size_name(sizes, i); i++) {
        size_t length = strlen(size_name(sizes, i));
        for (size_t k = 0; strncmp(from, size_name(sizes, i), length) == 0 && k < sizeof tails / sizeof *tails; k++)
            if (strcmp(from + length, tails[k]) == 0)
                return size_name(sizes, i);
    }
    return NULL;
}

enum sag_status check_conductor(const struct sag_tables *tables, const char *column, const struct sag_cell *cell,
                                const struct sag_place *at, struct sag_diags *diags)
{
    const struct sag_table *sizes = sag_tables_find(tables, "ch9_t9_ac_impedance");
    struct sag_shown shown;
    char around[40] = "";
    bool known = is_metric_size(cell);
    for (size_t i = 0; sizes && size_name(sizes, i) && !known; i++)
        known = strcmp(size_name(sizes, i), cell->text) == 0;
    if (known)
        return SAG_OK;
    sag_shown(&shown, cell->text, cell->length);
    bool bare = cell->text[strspn(cell->text, "0123456789")] == '\0';
    const char *meant = meant_size(sizes, cell->text);
    if (meant)
        return sag_complain(diags, SAG_ERROR, at, "%s: \"%s\" is not how the conductor tables name it; write %s",
                            column, shown.text, meant);
    const char *near = bare || !sizes ? NULL : nearest_word(cell->text, size_name, sizes);
    if (near)
        return sag_complain(diags, SAG_ERROR, at, "%s: \"%s\" is not a size of the conductor tables; did you mean %s?",
                            column, shown.text, near);
    if (bare && sizes && *neighbours(sizes, cell->text, around))
        return sag_complain(diags, SAG_ERROR, at,
                            "%s: \"%s\" is not a size of the conductor tables; nearest %s; for metric write %smm2",
                            column, shown.text, around, shown.text);
    return sag_complain(diags, SAG_ERROR, at,
                        "%s: \"%s\" is not a size of the conductor tables; write 12, 4/0, 250 (kcmil), or for metric "
                        "%smm2",
                        column, shown.text, bare ? shown.text : "95");
}

static bool is_made(const struct sag_tables *tables, const char *size, uint8_t material)
{
    return !isnan(sag_ask_cable(tables, size, (enum sag_material)material, SAG_RACEWAY_BLANK).ohms_r);
}

enum sag_status check_material(const struct row_check *check, const struct conductor_cells *cells)
{
    const struct sag_table *sizes = sag_tables_find(check->tables, "ch9_t9_ac_impedance");
    if (!sizes || is_made(check->tables, cells->size, cells->material))
        return SAG_OK;
    size_t smallest = 0;
    while (size_name(sizes, smallest + 1) && !is_made(check->tables, size_name(sizes, smallest), cells->material))
        smallest++;
    return say_of(check, SAG_ERROR, cells->column,
                  "the conductor tables have no aluminum %s; the smallest is %s; is the material right?", cells->size,
                  size_name(sizes, smallest));
}
