#include "read/row_check.h"

#include <stdarg.h>
#include <stdio.h>

bool is_filled(const struct row_check *check, const char *column)
{
    uint32_t cell = cell_of(check->set, check->map, column);
    return cell > 0 && cell <= check->cells->count && check->cells->cells[cell - 1].length > 0;
}

const char *used_column(const struct row_check *check, const char *first, const char *second)
{
    if (is_filled(check, first))
        return first;
    if (is_filled(check, second))
        return second;
    return has_column(check->set, check->map, first) || !has_column(check->set, check->map, second) ? first : second;
}

enum sag_status say_of(const struct row_check *check, enum sag_severity severity, const char *column,
                       const char *format, ...)
{
    struct sag_place at = {check->file, check->cells->line, cell_of(check->set, check->map, column)};
    char text[sizeof(struct sag_diag)];
    va_list args;
    va_start(args, format);
    vsnprintf(text, sizeof text, format, args);
    va_end(args);
    return sag_complain(check->diags, severity, &at, "%s: %s", column, text);
}

enum sag_status refuse_cell(const struct row_check *check, const char *column, const char *what)
{
    return say_of(check, SAG_ERROR, column, "%s", what);
}
