/* The tables of `supply`: a board in a case a row; for people bolted faults have a table of their own. */
#include <math.h>

#include "sagband/write.h"

/* clang-format off: one row a column;
   X(ENUM, name or NULL, head, unit in text, width, decimals, kind, heads shown in the table of volts, in that of faults) */
#define SUPPLY_COLUMNS(X)                                                                                              \
    X(BOARD, "board", "board", "", 11, 0, TEXT, true, true)                                                            \
    X(FED_FROM, "fed_from", "fed from", "", 9, 0, TEXT, true, true)                                                    \
    X(KIND, "kind", "by", "", 11, 0, TEXT, true, true)                                                                 \
    X(CASE, "case", "case", "", 8, 0, TEXT, false, false)                                                              \
    X(VOLTS, "volts", "volts", "V", 7, 1, NUMBER, true, false)                                                         \
    X(VOLTS_PCT, "volts_pct", "share", "% nom", 6, 1, NUMBER, true, false)                                             \
    X(NEUTRAL, "neutral_volts", "neutral", "V", 7, 1, NUMBER, true, false)                                             \
    X(AMPS, "amps", "amps", "A", 7, 1, NUMBER, true, false)                                                            \
    X(KVA, "kva", "power", "kVA", 7, 1, NUMBER, true, false)                                                           \
    X(CAPACITY, "capacity_kva", "own", "kVA", 6, 1, NUMBER, true, false)                                               \
    X(USED, "capacity_used_pct", "used", "%", 5, 1, NUMBER, true, false)                                               \
    X(LOSS, "loss_kw", "loss", "kW", 6, 2, NUMBER, true, false)                                                        \
    X(MEASURED, "measured_volts", "", "", 0, 1, NUMBER, false, false)                                                  \
    X(COMPUTED, "computed_volts", "", "", 0, 1, NUMBER, false, false)                                                  \
    X(FAULT, "fault_ka", "sources", "kA", 8, 2, NUMBER, false, true)                                                   \
    X(MOTOR_FAULT, "motor_fault_ka", "motors", "kA", 8, 2, NUMBER, false, true)                                        \
    X(FAULT_SUM, NULL, "together", "kA", 8, 2, NUMBER, false, true)                                                    \
    X(RATING, "rating_ka", "rating", "kA", 8, 2, NUMBER, false, true)                                                  \
    X(RATING_USED, NULL, "used", "%", 6, 1, NUMBER, false, true)                                                       \
    X(VERDICT, "verdict", "verdict", "", 7, 0, VERDICT, true, false)                                                   \
    X(ASSUMED, "assumed", "", "", 0, 0, TEXT, false, false)
/* clang-format on */

enum {
#define COLUMN(name, ...) AT_##name,
    SUPPLY_COLUMNS(COLUMN)
#undef COLUMN
};

#define VOLTS_COLUMN(id, name, head, unit, width, decimals, kind, in_volts, in_faults)                                 \
    {name, (in_volts) ? (head) : NULL, unit, width, decimals, SAG_CELL_##kind},
#define FAULT_COLUMN(id, name, head, unit, width, decimals, kind, in_volts, in_faults)                                 \
    {name, (in_faults) ? (head) : NULL, unit, width, decimals, SAG_CELL_##kind},
static const struct sag_column volts_columns[] = {SUPPLY_COLUMNS(VOLTS_COLUMN)};
static const struct sag_column fault_columns[] = {SUPPLY_COLUMNS(FAULT_COLUMN)};
#undef VOLTS_COLUMN
#undef FAULT_COLUMN

const struct sag_view sag_supply_view = {volts_columns, sizeof volts_columns / sizeof *volts_columns};
const struct sag_view sag_fault_view = {fault_columns, sizeof fault_columns / sizeof *fault_columns};

static const char *kind_word(uint8_t kind)
{
    static const char *const words[] = {"",
#define WORD(name, word) word,
                                        SAG_NODE_KINDS(WORD)
#undef WORD
    };
    return words[kind];
}

static const char *assumed_columns(const struct sag_node *node, char *out, size_t room)
{
    const char *column;
    size_t used = 0;
    out[0] = '\0';
    for (size_t k = 0; (column = sag_assumed_in_path(node, k)) && used < room; k++)
        used += (size_t)snprintf(out + used, room - used, "%s%s", used ? " " : "", column);
    return out;
}

static void put_faults(const struct sag_board_report *r, struct sag_value *v)
{
    const double kilo = 1000;
    double sum = r->fault_amps + r->motor_fault_amps;
    v[AT_FAULT].number = isfinite(r->fault_amps) ? r->fault_amps / kilo : NAN;
    v[AT_FAULT].text = "no end"; /* behind a utility without a fault level */
    v[AT_MOTOR_FAULT].number = isfinite(sum) ? r->motor_fault_amps / kilo : NAN;
    v[AT_FAULT_SUM].number = isfinite(sum) ? sum / kilo : NAN;
    v[AT_RATING].number = r->rating_amps / kilo;
    v[AT_RATING_USED].number = isfinite(sum) ? 100 * sum / r->rating_amps : NAN;
}

static void put_flow(const struct sag_node *node, const struct sag_board_report *r, const struct sag_board_flow *f,
                     struct sag_value *v)
{
    const double kilo = 1000;
    v[AT_VOLTS].number = f->volts_ll;
    v[AT_VOLTS_PCT].number = 100 * f->volts_ll / node->volts_nominal;
    v[AT_NEUTRAL].number = f->volts_ln;
    v[AT_AMPS].number = f->amps;
    v[AT_KVA].number = f->va / kilo;
    v[AT_CAPACITY].number = r->rated_va / kilo;
    v[AT_USED].number = 100 * sqrt(3.0) * node->volts_nominal * f->amps / r->rated_va;
    v[AT_LOSS].number = f->loss_watts / kilo;
    v[AT_MEASURED].number = f->measured_here ? f->volts_ll : NAN;
    v[AT_COMPUTED].number = f->computed_volts;
}

void sag_supply_row(const struct sag_board_table *t, size_t board, enum sag_case which, struct sag_row_text *text,
                    struct sag_value *v)
{
    const struct sag_node *node = &t->supply->nodes[board];
    for (size_t k = 0; k < sag_supply_view.count; k++)
        v[k] = (struct sag_value){NAN, ""};
    v[AT_BOARD].text = node->id;
    v[AT_FED_FROM].text = node->parent < 0 ? "" : t->supply->nodes[node->parent].id;
    v[AT_KIND].text = kind_word(node->choice[SAG_NODE_KIND]);
    v[AT_CASE].text = sag_case_word(which);
    v[AT_VERDICT].text = sag_verdict_word(t->results[board].verdict[which]);
    v[AT_ASSUMED].text = assumed_columns(node, text->assumed, sizeof text->assumed);
    put_flow(node, &t->reports[board], &t->reports[board].of[which], v);
    put_faults(&t->reports[board], v);
}
