/* The clauses that numbers rest on, as rules of a sheet and as feet of a schedule. */
#include <stddef.h>

#include "protect/parts.h"

static const struct {
    struct sag_rule rule;
    const char *number, *words;
} clauses[] = {
#define CLAUSE(name, symbol, formula, number, words)                                                                   \
    {{symbol, formula, SAG_CODE_EDITION " " number, NULL}, number, words},
    SAG_CLAUSES(CLAUSE)
#undef CLAUSE
};
_Static_assert(sizeof clauses / sizeof *clauses == SAG_CLAUSE_COUNT, "ORDER CLAUSE");
_Static_assert(SAG_CLAUSE_COUNT <= 64, "a set of clauses has a bit each");

const char *sag_clause_number(enum sag_clause clause)
{
    return clauses[clause].number;
}

const char *sag_clause_words(enum sag_clause clause)
{
    return clauses[clause].words;
}

const struct sag_rule *sag_clause_rule(enum sag_clause clause)
{
    return &clauses[clause].rule;
}

struct sag_qty by_clause(enum sag_clause clause, struct sag_qty of, double share)
{
    struct sag_qty qty = sag_scaled(of, share);
    qty.rule = sag_clause_rule(clause);
    if (qty.origin < SAG_COMPUTED)
        qty.origin = SAG_COMPUTED;
    return qty;
}

struct sag_qty clause_amps(enum sag_clause clause, double amps)
{
    return by_clause(clause, sag_exact(amps, SAG_COMPUTED), 1);
}
