/* Questions about conductors: ampacity, corrections, terminals, equipment grounds. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/number.h"
#include "tables/parts.h"

enum { /* ORDER AMPACITY_USE */
    SIZE,
    CU_60,
    CU_75,
    CU_90,
    AL_60,
    AL_75,
    AL_90
};

/* Place among three columns of 60, 75 and 90 C. */
static int place_of(int column_c)
{
    return column_c <= 60 ? 0 : column_c <= 75 ? 1 : 2;
}

const char *sag_conductor_size(const struct sag_tables *tables, size_t index)
{
    const struct used_table *used = sag_used_table(tables, USE_AMPACITY);
    return index < used->table->rows ? sag_table_text(used, index, SIZE) : NULL;
}

double sag_ask_conductor_area(const struct sag_tables *tables, const char *size)
{
    enum {
        DC_SIZE,
        DC_AREA
    };
    const char *unit = strstr(size, "mm2");
    double mm2 = 0;
    if (unit && sag_number_read(size, (size_t)(unit - size), '.', &mm2) == SAG_NUMBER_OK)
        return mm2 * CMIL_PER_MM2;
    const struct used_table *dc = sag_used_table(tables, USE_CONDUCTORS);
    size_t row = sag_row_named(dc, size);
    return row < dc->table->rows ? sag_table_number(dc, row, DC_AREA) : NAN;
}

size_t sag_find_conductor_size(const struct sag_tables *tables, const char *size)
{
    const struct used_table *used = sag_used_table(tables, USE_AMPACITY);
    size_t found = used->table->rows;
    if (!strstr(size, "mm2"))
        return sag_row_named(used, size);
    double area = sag_ask_conductor_area(tables, size);
    for (size_t i = 0; i < used->table->rows; i++)
        if (sag_ask_conductor_area(tables, sag_table_text(used, i, SIZE)) <= area)
            found = i;
    return found;
}

double sag_ask_ampacity(const struct sag_tables *tables, size_t size, enum sag_material material, int column_c)
{
    int column = (material == SAG_MATERIAL_AL ? AL_60 : CU_60) + place_of(column_c);
    return sag_table_number(sag_used_table(tables, USE_AMPACITY), size, column);
}

double sag_ask_ambient_factor(const struct sag_tables *tables, double ambient_c, int column_c)
{
    enum {
        UP_TO,
        FACTORS
    };
    const struct used_table *used = sag_used_table(tables, USE_AMBIENT);
    for (size_t row = 0; row < used->table->rows; row++)
        if (ambient_c <= sag_table_number(used, row, UP_TO))
            return sag_table_number(used, row, FACTORS + place_of(column_c));
    return NAN;
}

double sag_ask_count_factor(const struct sag_tables *tables, double conductors)
{
    enum {
        FROM,
        PERCENT
    };
    const struct used_table *used = sag_used_table(tables, USE_CONDUCTOR_COUNT);
    double factor = 1;
    for (size_t row = 0; row < used->table->rows; row++)
        if (conductors >= sag_table_number(used, row, FROM))
            factor = 0.01 * sag_table_number(used, row, PERCENT);
    return factor;
}

int sag_ask_terminal_column(const struct sag_tables *tables, double amps, bool design_bcd)
{
    enum {
        CIRCUIT,
        CONDITION,
        COLUMN
    };
    const double small_circuit = 100 * (1 + 1e-9); /* A; 110.14(C)(1)(a) and (b); a sum of 100 A is not above it */
    const struct used_table *used = sag_used_table(tables, USE_TERMINATIONS);
    bool small = amps <= small_circuit;
    const char *condition = small && design_bcd ? "motor_design_b_c_d_with_75c_or_higher_insulation" : "default";
    for (size_t row = 0; row < used->table->rows; row++)
        if (strcmp(sag_table_text(used, row, CIRCUIT), small ? "le_100a" : "gt_100a") == 0 &&
            strcmp(sag_table_text(used, row, CONDITION), condition) == 0)
            return (int)sag_table_number(used, row, COLUMN);
    return 60;
}

double sag_ask_small_wire_limit(const struct sag_tables *tables, const char *size, enum sag_material material)
{
    enum {
        AWG,
        MATERIAL,
        LIMIT
    };
    const struct used_table *used = sag_used_table(tables, USE_SMALL_WIRES);
    const char *word = material == SAG_MATERIAL_AL ? "al_or_cu_clad_al" : "cu";
    for (size_t row = 0; row < used->table->rows; row++)
        if (strcmp(sag_table_text(used, row, AWG), size) == 0 && strcmp(sag_table_text(used, row, MATERIAL), word) == 0)
            return sag_table_number(used, row, LIMIT);
    return INFINITY;
}

const char *sag_ask_ground_conductor(const struct sag_tables *tables, double device_amps, enum sag_material material)
{
    enum {
        UP_TO,
        CU,
        AL
    };
    const struct used_table *used = sag_used_table(tables, USE_GROUND_CONDUCTORS);
    for (size_t row = 0; row < used->table->rows; row++)
        if (device_amps <= sag_table_number(used, row, UP_TO))
            return sag_table_text(used, row, material == SAG_MATERIAL_AL ? AL : CU);
    return NULL;
}
