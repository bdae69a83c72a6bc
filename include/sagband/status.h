/* Whether to go on. What a human reads is a diagnostic (diag.h). */
#ifndef SAGBAND_STATUS_H
#define SAGBAND_STATUS_H

#define SAG_STATUSES(X)                                                                                                \
    X(OK, "ok")                                                                                                        \
    X(BAD_INPUT, "input refused")                                                                                      \
    X(BAD_USAGE, "wrong usage")                                                                                        \
    X(NO_SOLUTION, "no solution")                                                                                      \
    X(NO_MEMORY, "out of memory")                                                                                      \
    X(IO, "could not write")

enum sag_status {
#define SAG_STATUS_ENUM(name, words) SAG_##name,
    SAG_STATUSES(SAG_STATUS_ENUM)
#undef SAG_STATUS_ENUM
    SAG_STATUS_COUNT
};

/* The status in words, for a message. Never NULL. */
const char *sag_status_words(enum sag_status status);

#endif
