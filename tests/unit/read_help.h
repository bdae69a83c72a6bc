/* Reading text as if it were a file, and diagnostics as one text to compare. */
#ifndef TESTS_READ_HELP_H
#define TESTS_READ_HELP_H

#include <stdio.h>
#include <string.h>

#include "support.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

static inline struct sag_input text_input(const char *name, const char *text)
{
    return (struct sag_input){.name = name, .bytes = text, .size = strlen(text)};
}

/* One line each, sorted: "line:column severity text". */
static inline void diags_text(struct sag_diags *diags, char *out, size_t room)
{
    size_t used = 0;
    out[0] = '\0';
    sag_diags_sort(diags);
    for (size_t i = 0; i < diags->count && used < room; i++) {
        const struct sag_diag *d = &diags->items[i];
        used += (size_t)snprintf(out + used, room - used, "%u:%u %c %s\n", d->at.line, d->at.column, "NWE"[d->severity],
                                 d -> text);
    }
}

/* Fails unless the diagnostics are those of `wanted`; ends them. */
static inline void check_diags(const char *name, struct sag_diags *diags, const char *wanted)
{
    static char got[20000];
    diags_text(diags, got, sizeof got);
    sag_diags_free(diags);
    check_text(name, got, wanted);
}

#endif
