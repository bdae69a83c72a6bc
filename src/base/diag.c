#include "sagband/diag.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/grow.h"
#include "base/text.h"

static size_t kept(const struct sag_diags *diags, enum sag_severity severity)
{
    size_t n = 0;
    for (size_t i = 0; i < diags->count; i++)
        n += diags->items[i].severity == severity;
    return n;
}

enum sag_status sag_complain(struct sag_diags *diags, enum sag_severity severity, const struct sag_place *at,
                             const char *format, ...)
{
    enum sag_status status = severity == SAG_ERROR ? SAG_BAD_INPUT : SAG_OK;
    diags->errors += severity == SAG_ERROR;
    diags->warnings += severity == SAG_WARNING;
    if (kept(diags, severity) >= SAG_DIAGS_KEPT)
        return status;
    if (!sag_grow(&diags->items, diags->count + 1, &diags->room, sizeof *diags->items))
        return status;
    struct sag_diag *item = &diags->items[diags->count++];
    *item = (struct sag_diag){.at = *at, .severity = severity, .order = (uint32_t)diags->count};
    va_list args;
    va_start(args, format);
    vsnprintf(item->text, sizeof item->text, format, args);
    va_end(args);
    return status;
}

static int by_place(const void *left, const void *right)
{
    const struct sag_diag *a = left;
    const struct sag_diag *b = right;
    int files = strcmp(a->at.file ? a->at.file : "", b->at.file ? b->at.file : "");
    if (files)
        return files;
    if (a->at.line != b->at.line)
        return a->at.line < b->at.line ? -1 : 1;
    if (a->at.column != b->at.column)
        return a->at.column < b->at.column ? -1 : 1;
    return a->order < b->order ? -1 : a->order > b->order;
}

void sag_diags_sort(struct sag_diags *diags)
{
    if (diags->count)
        qsort(diags->items, diags->count, sizeof *diags->items, by_place);
}

void sag_diags_free(struct sag_diags *diags)
{
    free(diags->items);
    *diags = (struct sag_diags){0};
}

const char *sag_shown(struct sag_shown *shown, const char *text, size_t length)
{
    size_t room = sizeof shown->text - sizeof "...", used = 0, at = 0;
    while (at < length) {
        size_t n = sag_utf8_step(text + at, length - at);
        bool safe = n > 0 && !sag_is_unseen(text + at, n);
        size_t wide = safe ? n : 1;
        if (used + wide > room)
            break;
        if (safe)
            memcpy(shown->text + used, text + at, n);
        else
            shown->text[used] = '?';
        used += wide;
        at += n ? n : 1;
    }
    memcpy(shown->text + used, at < length ? "..." : "", at < length ? 4 : 1);
    return shown->text;
}
