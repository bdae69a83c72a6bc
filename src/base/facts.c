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

const char *sag_choice_word(enum sag_choice choice, unsigned value)
{
    static const char *const words[SAG_CHOICE_COUNT][16] = {
#define WORD(name, word)  word,
#define WORDS(name, list) [SAG_##name] = {"", list(WORD)},
        SAG_CHOICES(WORDS)
#undef WORDS
#undef WORD
    };
    return value < sizeof *words / sizeof **words ? words[choice][value] : NULL;
}
