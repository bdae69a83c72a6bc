/* Questions about what current comes by: conductors, transformers, and what stands in when a file is silent. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/number.h"
#include "sagband/facts.h"
#include "tables/parts.h"

#define FEET_PER_KFT 1000.0

enum { /* ORDER CABLE_USE */
    SIZE,
    X_PVC,
    X_STEEL,
    R_CU_PVC,
    R_CU_AL,
    R_CU_STEEL,
    R_AL_PVC,
    R_AL_AL,
    R_AL_STEEL
};

struct cable_columns {
    int r, x;
};

static struct cable_columns columns_for(enum sag_material material, enum sag_raceway raceway)
{
    static const int copper[] = {[SAG_RACEWAY_BLANK] = R_CU_STEEL,
                                 [SAG_RACEWAY_STEEL] = R_CU_STEEL,
                                 [SAG_RACEWAY_PVC] = R_CU_PVC,
                                 [SAG_RACEWAY_ALUMINUM] = R_CU_AL};
    static const int aluminum[] = {[SAG_RACEWAY_BLANK] = R_AL_STEEL,
                                   [SAG_RACEWAY_STEEL] = R_AL_STEEL,
                                   [SAG_RACEWAY_PVC] = R_AL_PVC,
                                   [SAG_RACEWAY_ALUMINUM] = R_AL_AL};
    bool steel = raceway == SAG_RACEWAY_BLANK || raceway == SAG_RACEWAY_STEEL;
    return (struct cable_columns){material == SAG_MATERIAL_AL ? aluminum[raceway] : copper[raceway],
                                  steel ? X_STEEL : X_PVC};
}

enum { /* of USE_CONDUCTORS */
    DC_SIZE,
    DC_AREA,
    DC_CU,
    DC_AL
};

/* The last row of that size: the stranded one. */
static size_t dc_row(const struct used_table *dc, const char *size)
{
    size_t row = dc->table->rows;
    for (size_t i = 0; i < dc->table->rows; i++)
        if (strcmp(sag_table_text(dc, i, DC_SIZE), size) == 0)
            row = i;
    return row;
}

/* Row of the impedance table whose area is nearest, among those that have the material. */
static size_t nearest_row(const struct sag_tables *tables, double cmil, int column)
{
    const struct used_table *used = sag_used_table(tables, USE_CABLES);
    const struct used_table *dc = sag_used_table(tables, USE_CONDUCTORS);
    size_t nearest = 0;
    double least = INFINITY;
    for (size_t i = 0; i < used->table->rows; i++) {
        size_t row = dc_row(dc, sag_table_text(used, i, SIZE));
        double off = row < dc->table->rows ? fabs(log(sag_table_number(dc, row, DC_AREA) / cmil)) : INFINITY;
        if (off < least && !isnan(sag_table_number(used, i, column))) {
            least = off;
            nearest = i;
        }
    }
    return nearest;
}

/* Ohms a metre at 75 degC, direct current: the standard's own for its sizes, by area from the nearest row for others.
 */
static double metric_dc(const struct sag_tables *tables, double mm2, bool aluminum, double dc_ohms, double dc_cmil)
{
    enum {
        AREA,
        CU,
        AL
    };
    const double rise = 55, per_kelvin = aluminum ? 0.00403 : 0.00393; /* IEC 60228 (from memory) */
    const struct used_table *iec = sag_used_table(tables, USE_METRIC_CONDUCTORS);
    const struct row_filter filters[] = {{.column = AREA, .number = mm2}};
    struct bracket b = sag_bracket(iec, AREA, mm2, filters, 1);
    double at_20 = sag_answer_between(iec, &b, aluminum ? AL : CU, 1e-3).value;
    return isnan(at_20) ? dc_ohms * dc_cmil / (mm2 * CMIL_PER_MM2) : at_20 * (1 + per_kelvin * rise);
}

/* Alternating current and the raceway add the same share as to the nearest row of the table. */
static struct sag_cable metric_cable(const struct sag_tables *tables, double mm2, bool aluminum,
                                     struct cable_columns columns)
{
    const struct used_table *used = sag_used_table(tables, USE_CABLES);
    const struct used_table *dc = sag_used_table(tables, USE_CONDUCTORS);
    size_t nearest = nearest_row(tables, mm2 * CMIL_PER_MM2, columns.r);
    size_t row = dc_row(dc, sag_table_text(used, nearest, SIZE));
    double per_metre = 1 / (FEET_PER_KFT * SAG_METRES_PER_FOOT);
    double dc_ohms = sag_table_number(dc, row, aluminum ? DC_AL : DC_CU) * per_metre;
    double added = fmax(1, sag_table_number(used, nearest, columns.r) * per_metre / dc_ohms);
    double own = metric_dc(tables, mm2, aluminum, dc_ohms, sag_table_number(dc, row, DC_AREA));
    return (struct sag_cable){own * added, sag_table_number(used, nearest, columns.x) * per_metre, true, true};
}

struct sag_cable sag_ask_cable(const struct sag_tables *tables, const char *size, enum sag_material material,
                               enum sag_raceway raceway)
{
    const struct used_table *used = sag_used_table(tables, USE_CABLES);
    struct cable_columns columns = columns_for(material, raceway);
    const char *unit = strstr(size, "mm2");
    double area = 0;
    if (unit && sag_number_read(size, (size_t)(unit - size), '.', &area) == SAG_NUMBER_OK)
        return metric_cable(tables, area, material == SAG_MATERIAL_AL, columns);
    size_t row = sag_row_named(used, size);
    if (row == used->table->rows)
        return (struct sag_cable){NAN, NAN, false, false};
    double per_metre = 1 / (FEET_PER_KFT * SAG_METRES_PER_FOOT);
    double r = sag_table_number(used, row, columns.r);
    return (struct sag_cable){r * per_metre, sag_table_number(used, row, columns.x) * per_metre, false, !isnan(r)};
}

const char *sag_larger_conductor(const struct sag_tables *tables, const char *size)
{
    const struct used_table *used = sag_used_table(tables, USE_CABLES);
    size_t row = sag_row_named(used, size);
    return row + 1 < used->table->rows ? sag_table_text(used, row + 1, SIZE) : NULL;
}

struct sag_answer sag_ask_transformer_x_over_r(const struct sag_tables *tables, double kva, bool dry)
{
    enum {
        TYPE,
        KVA,
        X_OVER_R
    };
    const struct used_table *used = sag_used_table(tables, USE_TRANSFORMERS);
    const struct row_filter filters[] = {{.column = TYPE, .text = dry ? "dry" : "pad-mounted liquid"}};
    struct bracket b = sag_bracket(used, KVA, kva, filters, 1);
    return sag_answer_between(used, &b, X_OVER_R, 1);
}

double sag_larger_transformer_kva(const struct sag_tables *tables, double kva)
{
    enum {
        TYPE,
        KVA
    };
    const struct used_table *used = sag_used_table(tables, USE_TRANSFORMERS);
    double next = INFINITY;
    for (size_t i = 0; i < used->table->rows; i++) {
        double size = sag_table_number(used, i, KVA);
        if (size > kva * 1.001 && size < next)
            next = size;
    }
    return next;
}

struct sag_answer sag_ask_network_default(const struct sag_tables *tables, const char *quantity)
{
    return sag_answer_named(sag_used_table(tables, USE_NETWORK_DEFAULTS), quantity);
}

struct sag_answer sag_ask_starter_default(const struct sag_tables *tables, const char *quantity)
{
    return sag_answer_named(sag_used_table(tables, USE_STARTER_DEFAULTS), quantity);
}

struct sag_answer sag_ask_load_inertia_limit(const struct sag_tables *tables, double hp, double sync_rpm)
{
    enum {
        HP,
        RPM,
        INERTIA
    };
    const struct used_table *used = sag_used_table(tables, USE_LOAD_INERTIA);
    const struct row_filter filters[] = {{.column = RPM, .number = sync_rpm}};
    struct bracket b = sag_bracket(used, HP, hp, filters, 1);
    struct sag_answer answer = sag_answer_between(used, &b, INERTIA, 1);
    return answer.beyond ? sag_no_answer() : answer;
}

struct sag_flicker sag_ask_flicker(const struct sag_tables *tables, double dips_per_hour)
{
    enum {
        DIPS,
        VISIBLE,
        IRRITATING
    };
    const struct used_table *used = sag_used_table(tables, USE_FLICKER);
    struct bracket b = sag_bracket(used, DIPS, dips_per_hour, NULL, 0);
    return (struct sag_flicker){sag_answer_between(used, &b, VISIBLE, 0.01),
                                sag_answer_between(used, &b, IRRITATING, 0.01)};
}

struct sag_answer sag_ask_start_limit(const struct sag_tables *tables, const char *criterion)
{
    const struct used_table *used = sag_used_table(tables, USE_START_LIMITS);
    size_t row = sag_row_named(used, criterion);
    return row == used->table->rows ? sag_no_answer() : sag_answer_row(used, row, 1, 1);
}
