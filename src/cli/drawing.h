/* Pictures drawn by gnuplot, which is another program: it may not be there. */
#ifndef CLI_DRAWING_H
#define CLI_DRAWING_H

#include "sagband/write.h"

enum drawn {
    DRAWN,
    DRAWN_NOT, /* gnuplot ended with an error */
    NO_GNUPLOT /* it cannot be started; errno of the attempt in `why` */
};
/* Draw the script FOLDER/NAME.gp as FOLDER/NAME.KIND, which appears whole or not at all. */
enum drawn draw_script(const char *script, const char *kind, int *why);

/* The same, with what went wrong told. */
enum sag_status draw_or_complain(const char *script, const char *kind, struct sag_diags *diags);

/* FOLDER/NAME.KIND for FOLDER/NAME.gp; the caller frees it. NULL: out of memory. */
char *picture_path(const char *script, const char *kind);

#endif
