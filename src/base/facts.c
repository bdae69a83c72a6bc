#include "sagband/facts.h"

#include <stddef.h>

const struct sag_fact_words *sag_fact_words(enum sag_fact fact)
{
    static const struct sag_fact_words words[] = {
#define ROW(name, symbol, text, unit, figures) [SAG_##name] = {symbol, text, unit, figures},
        SAG_GIVEN_FACTS(ROW) SAG_DERIVED_FACTS(ROW)
#undef ROW
    };
    return &words[fact];
}

const char *sag_choice_column(enum sag_choice choice)
{
    static const char *const columns[] = {
#define COLUMN(name, column, list) column,
        SAG_CHOICES(COLUMN)
#undef COLUMN
    };
    _Static_assert(sizeof columns / sizeof *columns == SAG_CHOICE_COUNT, "ORDER CHOICE");
    return columns[choice];
}

const char *sag_choice_word(enum sag_choice choice, unsigned value)
{
    static const char *const words[SAG_CHOICE_COUNT][16] = {
#define WORD(name, word)          word,
#define WORDS(name, column, list) [SAG_##name] = {"", list(WORD)},
        SAG_CHOICES(WORDS)
#undef WORDS
#undef WORD
    };
    return value < sizeof *words / sizeof **words ? words[choice][value] : NULL;
}
