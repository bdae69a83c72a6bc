/* Heads of groups of rows, the same in a text and on a page. */
#include <math.h>
#include <string.h>

#include "base/number.h"
#include "sagband/write.h"

const char *sag_feeder_title(const struct sag_plant *plant, const struct sag_supply *supply, uint32_t feeder,
                             struct sag_title *title)
{
    const struct sag_board *b = &plant->boards[feeder];
    char number[SAG_NUMBER_ROOM], *out = title->text;
    const size_t room = sizeof title->text;
    struct sag_shown shown;
    size_t used = (size_t)snprintf(out, room, "Feeder %s", sag_shown(&shown, b->id, strlen(b->id)));
    for (int i = 0; i < SAG_CASE_COUNT && used < room; i++)
        if (plant->cases[i] && sag_known(&b->of[i].volts))
            used +=
                (size_t)snprintf(out + used, room - used, ", %s V %s",
                                 sag_number_print(number, b->of[i].volts.value, 1), sag_case_word((enum sag_case)i));
    if (used < room && plant->cases[SAG_CASE_MEASURED] && b->measured_at >= 0 && supply)
        snprintf(out + used, room - used, " at %s", supply->nodes[b->measured_at].id);
    return out;
}

const char *sag_start_title(const struct sag_plant *plant, uint32_t feeder, struct sag_title *title)
{
    const struct sag_board *b = &plant->boards[feeder];
    char number[SAG_NUMBER_ROOM];
    struct sag_shown shown;
    snprintf(title->text, sizeof title->text, "Feeder %s, %s V nominal", sag_shown(&shown, b->id, strlen(b->id)),
             sag_number_figures(number, b->volts_nominal, 5));
    return title->text;
}

const char *sag_circuit_title(const struct sag_protect_table *t, size_t i, struct sag_title *title)
{
    const struct sag_feeder_size *f = &t->size->feeders[i];
    const struct sag_board_report *r = t->reports ? &t->reports[i] : NULL;
    char volts[SAG_NUMBER_ROOM], amps[SAG_NUMBER_ROOM], wire[40], *out = title->text;
    const size_t room = sizeof title->text;
    struct sag_shown shown;
    double nominal = t->supply ? t->supply->nodes[i].volts_nominal : t->boards[f->feeder].volts_nominal;
    double fault = r ? r->fault_amps + r->motor_fault_amps : NAN;
    size_t used = (size_t)snprintf(out, room, "%s %s, %s V nominal",
                                   f->on_set && f->service ? "Generator"
                                   : f->service            ? "Service"
                                                           : "Feeder",
                                   sag_shown(&shown, f->id, strlen(f->id)), sag_number_figures(volts, nominal, 5));
    if (isfinite(fault) && used < room)
        used +=
            (size_t)snprintf(out + used, room - used, ", bolted fault %s kA", sag_number_print(amps, fault / 1000, 2));
    if (r && !isnan(r->rating_amps) && used < room)
        used += (size_t)snprintf(out + used, room - used, ", gear rated %s kA",
                                 sag_number_figures(amps, r->rating_amps / 1000, 4));
    if (f->installed.size && used < room)
        snprintf(out + used, room - used, ", has %s for %s A", sag_wire_words(&f->installed, wire, sizeof wire),
                 sag_number_print(amps, f->installed.amps, 0));
    return out;
}

const char *sag_transformer_title(const struct sag_protect_table *table, size_t i, struct sag_title *title)
{
    const struct sag_transformer_size *t = &table->size->transformers[i];
    char kva[SAG_NUMBER_ROOM], from[SAG_NUMBER_ROOM], to[SAG_NUMBER_ROOM];
    struct sag_shown shown;
    const char *id = table->size->feeders[i].id;
    snprintf(title->text, sizeof title->text, "Transformer %s, %s kVA, %s to %s V", sag_shown(&shown, id, strlen(id)),
             sag_number_figures(kva, t->rated_va / 1000, 5), sag_number_figures(from, t->volts[SAG_PRIMARY], 5),
             sag_number_figures(to, t->volts[SAG_SECONDARY], 5));
    return title->text;
}

const char *sag_case_title(enum sag_case which)
{
    static const char *const heads[] = {
        [SAG_CASE_NOMINAL] = "Case nominal: the source as it should be, every motor at its own load",
        [SAG_CASE_LOW] = "Case low: the least of the source's range, every motor at full load",
        [SAG_CASE_HIGH] = "Case high: the most of the source's range, nothing runs",
        [SAG_CASE_MEASURED] = "Case measured: as measured, every motor at its own load",
    };
    _Static_assert(sizeof heads / sizeof *heads == SAG_CASE_COUNT, "ORDER CASE");
    return heads[which];
}

const char *sag_fault_title(void)
{
    return "Bolted three-phase faults, symmetrical, first cycle, from volts without current";
}
