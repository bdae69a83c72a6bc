#include "sagband/status.h"

#include <stddef.h>

const char *sag_status_words(enum sag_status status)
{
    static const char *const words[] = {
#define WORDS(name, text) text,
        SAG_STATUSES(WORDS)
#undef WORDS
    };
    return (size_t)status < sizeof words / sizeof *words ? words[status] : "unknown status";
}
