/* Findings as people read them: sorted by weight, equal neighbours as one entry, the words of an entry. */
#ifndef WRITE_FINDINGS_H
#define WRITE_FINDINGS_H

#include "sagband/write.h"

/* Findings in the order in which they are read; those that only repeat another are left out. */
struct sorted_findings {
    struct sag_finding *items;
    size_t count;
};
/* The caller frees them with free(). */
enum sag_status sort_findings(const struct sag_finding *findings, size_t count, struct sorted_findings *out);
/* How many from `first` on make one entry: the same check, case, limit and verdict. 0 past the last. */
size_t entry_length(const struct sorted_findings *sorted, size_t first);

/* Id of the board, or tag of the motor. */
const char *finding_subject(const struct sag_motor_list *list, const struct sag_finding *finding);
/* "" when it is about no case. */
const char *finding_case(const struct sag_finding *finding);

struct finding_words {
    char values[200], bounds[100], watched[60], limit[40]; /* "" where there is nothing to say */
    char next[120];                                        /* what settles an open verdict */
};
void word_findings(const struct sag_finding *entry, size_t count, struct finding_words *out);

#endif
