/* The table of advice: a change that makes a failing start pass, with the figures that its run gave. */
#include <math.h>

#include "base/number.h"
#include "sagband/write.h"
#include "write/escape.h"

/* clang-format off: one row a column; X(ENUM, name, head in text or NULL, unit in text, width, decimals, kind) */
#define ADVICE_COLUMNS(X)                                                                                              \
    X(TAG, "tag", "motor", "", 12, 0, TEXT)                                                                            \
    X(KIND, "kind", NULL, "", 0, 0, TEXT)                                                                              \
    X(CASE, "case", "case", "", 8, 0, TEXT)                                                                            \
    X(LOWEST, "motor_min_volts_pct", "lowest", "% plate", 7, 1, NUMBER)                                                \
    X(PEAK, "peak_amps", "peak", "A", 7, 1, NUMBER)                                                                    \
    X(TIME, "time_to_speed_s", "to speed", "s", 8, 2, NUMBER)                                                          \
    X(VERDICT, "verdict", "then", "", 7, 0, VERDICT)                                                                   \
    X(CHANGE, "change", "change", "", 0, 0, TEXT)
/* clang-format on */

enum {
#define COLUMN(name, ...) AT_##name,
    ADVICE_COLUMNS(COLUMN)
#undef COLUMN
};

static const struct sag_column columns[] = {
#define COLUMN(name, column, head, unit, width, decimals, kind) {column, head, unit, width, decimals, SAG_CELL_##kind},
    ADVICE_COLUMNS(COLUMN)
#undef COLUMN
};

const struct sag_view sag_advice_view = {columns, sizeof columns / sizeof *columns};

void sag_advice_row(const struct sag_plant *plant, const struct sag_advice *advice, struct sag_value *v)
{
    for (size_t i = 0; i < sag_advice_view.count; i++)
        v[i] = (struct sag_value){NAN, ""};
    v[AT_TAG].text = plant->list->plates[advice->motor].tag;
    v[AT_KIND].text = advice->kind;
    v[AT_CASE].text = sag_case_word(advice->which);
    v[AT_LOWEST].number = 100 * advice->volts_share;
    v[AT_PEAK].number = advice->start.amps_peak.value;
    v[AT_TIME].number = advice->start.time_to_speed.value;
    v[AT_VERDICT].text = sag_verdict_word(advice->verdict);
    v[AT_CHANGE].text = advice->change;
}

void sag_print_tap_advice(FILE *stream, const struct sag_plant *plant, const struct sag_grid *grid,
                          const struct sag_tap_advice *a)
{
    enum {
        LINE = 100,
        MOST = 40
    };
    char best[SAG_NUMBER_ROOM], now[SAG_NUMBER_ROOM];
    bool moved = false;
    if (a->tap_count == 0 || a->in_band_now == a->motors)
        return;
    fputs("\nTransformer taps (-5 to +5 % tried; nominal, low and high case)\n", stream);
    for (size_t i = 0; i < a->tap_count; i++) {
        const struct sag_tap *t = &a->taps[i];
        put_plain(stream, grid->nodes[t->node].id);
        if (t->best == t->now)
            fprintf(stream, ": leave at %s %%\n", sag_number_print(now, 100 * t->now, 1));
        else
            fprintf(stream, ": %s %% instead of %s %%\n", sag_number_print(best, 100 * t->best, 1),
                    sag_number_print(now, 100 * t->now, 1));
        moved = moved || t->best != t->now;
    }
    fprintf(stream, "Then %zu of %zu motors stay in band in all three cases%s%zu now.\n", a->in_band_best, a->motors,
            moved ? ", against " : ", as many as the ", a->in_band_now);
    if (a->single.node >= 0 && a->in_band_single < a->in_band_best) {
        fputs("With one tap moved: ", stream);
        put_plain(stream, grid->nodes[a->single.node].id);
        fprintf(stream, " to %s %%, %zu.\n", sag_number_print(best, 100 * a->single.best, 1), a->in_band_single);
    }
    fputs("A lower tap leaves starts less: see sagband start with it before it is set.\n", stream);
    if (a->lost_count == 0)
        return;
    int at = fprintf(stream, "Out of band at any such tap, or at the cost of more others:");
    for (size_t i = 0; i < a->lost_count && i < MOST; i++) {
        const char *tag = plant->list->plates[a->lost[i]].tag;
        int width = text_width(tag);
        if (at + 1 + width > LINE) {
            fputs("\n ", stream);
            at = 1;
        }
        fputc(' ', stream);
        put_plain(stream, tag);
        at += 1 + width;
    }
    fputs(a->lost_count > MOST ? " and more\n" : "\n", stream);
}
