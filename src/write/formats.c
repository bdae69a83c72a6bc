#include "write/formats.h"

#include <string.h>

const struct sag_writer *sag_writer_at(size_t index)
{
    static const struct sag_writer *const writers[] = {&sag_as_text, &sag_as_csv, &sag_as_json, NULL};
    size_t at = 0;
    while (at < index && writers[at])
        at++;
    return writers[at];
}

const struct sag_writer *sag_writer_find(const char *name)
{
    for (size_t i = 0; sag_writer_at(i); i++)
        if (strcmp(sag_writer_at(i)->name, name) == 0)
            return sag_writer_at(i);
    return NULL;
}

const char *put_fact_columns(uint64_t facts, char *out, size_t room)
{
    size_t used = 0;
    out[0] = '\0';
    for (int i = 0; i < SAG_FACT_COUNT; i++) {
        const char *column = facts >> i & 1 ? sag_motor_column_of((enum sag_fact)i) : NULL;
        if (column && used < room)
            used += (size_t)snprintf(out + used, room - used, "%s%s", used ? " " : "", column);
    }
    return out;
}
