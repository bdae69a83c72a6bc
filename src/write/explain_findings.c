/* The findings of a sheet, each with its limit. */
#include "base/number.h"
#include "write/sheet.h"

void add_findings(struct sag_lines *lines, const struct sag_finding *findings, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const struct sag_finding *f = &findings[i];
        char limit[SAG_NUMBER_ROOM], watch[SAG_NUMBER_ROOM];
        sag_number_figures(limit, f->limit, 4);
        sag_number_figures(watch, f->watch, 4);
        bool margin = f->verdict == SAG_VERDICT_WATCH && f->watch != f->limit;
        add_line(lines, &(struct symbols){0},
                 (struct sag_line){
                     .section = "Findings",
                     .symbol = sag_verdict_word((enum sag_verdict)f->verdict),
                     .words = sheet_text(lines, "%s%s%s: %s", f->check->name, f->which < SAG_CASE_COUNT ? ", " : "",
                                         f->which < SAG_CASE_COUNT ? sag_case_word((enum sag_case)f->which) : "",
                                         f->check->meaning),
                     .formula = "",
                     .value = f->value,
                     .unit = f->check->unit,
                     .source = f->source,
                     .origin = "",
                     .note = sheet_text(lines, "limit %s%s%s%s%s", limit, margin ? "; watched from " : "",
                                        margin ? watch : "", *f->missing ? "; read next: " : "", f->missing),
                     .figures = 4});
    }
}
