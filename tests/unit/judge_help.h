/* Motors judged at typed volts. */
#ifndef TESTS_JUDGE_HELP_H
#define TESTS_JUDGE_HELP_H

#include <stdlib.h>

#include "read_help.h"

struct judged {
    struct sag_motor_list list;
    struct sag_board *boards;
    struct sag_result *result; /* of the one motor */
};

static inline void judge_typed(const char *plate, const struct sag_typed_volts *typed, struct judged *j)
{
    struct sag_diags diags = {0};
    struct sag_fit_store store = {0};
    size_t index = 0;
    sag_read_plate(plate, shared_tables(), NULL, &j->list, &diags);
    check_diags(plate, &diags, "");
    assert_int_equal(sag_find_boards(shared_tables(), NULL, typed, &j->list, &j->boards), SAG_OK);
    j->result = calloc(1, sizeof *j->result);
    struct sag_plant plant = {.tables = shared_tables(),
                              .list = &j->list,
                              .boards = j->boards,
                              .cases = {true, true, true, true},
                              .store = &store};
    assert_int_equal(sag_judge_motors(&plant, &index, 1, j->result), SAG_OK);
    sag_fit_store_free(&store);
}

static inline void judged_free(struct judged *j)
{
    free(j->result);
    free(j->boards);
    sag_motor_list_free(&j->list);
}

/* NULL when that check is ok, or does not apply. */
static inline const struct sag_finding *finding_of(const struct judged *j, const char *check, enum sag_case which)
{
    for (size_t i = 0; i < j->result->finding_count; i++) {
        const struct sag_finding *f = &j->result->findings[i];
        if (f->which == which && strcmp(f->check->name, check) == 0)
            return f;
    }
    return NULL;
}

static inline enum sag_verdict verdict_in(const struct judged *j, const char *check, enum sag_case which)
{
    const struct sag_finding *f = finding_of(j, check, which);
    return f ? (enum sag_verdict)f->verdict : SAG_VERDICT_OK;
}

static inline void check_verdict(const char *name, enum sag_verdict got, enum sag_verdict wanted)
{
    check_text(name, sag_verdict_word(got), sag_verdict_word(wanted));
}

#endif
