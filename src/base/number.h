/* Text to number and back, the same in every locale. */
#ifndef BASE_NUMBER_H
#define BASE_NUMBER_H

#include <stdbool.h>
#include <stddef.h>

enum sag_number_fault {
    SAG_NUMBER_OK,
    SAG_NUMBER_NOT_ONE,     /* no digits, or a word */
    SAG_NUMBER_UNIT,        /* a number and then something: "75hp" */
    SAG_NUMBER_MARK,        /* the other decimal mark: "0,93" where points are used */
    SAG_NUMBER_THOUSANDS,   /* grouped digits: "1,200" or "1.200" */
    SAG_NUMBER_OUT_OF_RANGE /* more than a double holds */
};

enum {
    SAG_NUMBER_ROOM = 40
};

/* Read all of text[0..length) as one decimal number with `mark` ('.' or ',') as decimal mark; a point is also taken
   where `mark` is a comma, unless it groups digits by three. No units, no grouping, no hexadecimal, no infinity. */
enum sag_number_fault sag_number_read(const char *text, size_t length, char mark, double *out);

/* A number that groups its digits, without the grouping and with `mark` as decimal mark; false when it is none. */
bool sag_number_ungroup(const char *text, size_t length, char mark, char out[SAG_NUMBER_ROOM]);

/* Print with a fixed number of decimals (0..9), a point as mark, half away from zero; NAN prints nothing.
   Magnitudes of 1e15 and more print as 1e15. Returns out. */
char *sag_number_print(char out[SAG_NUMBER_ROOM], double value, int decimals);

/* As above with `digits` significant figures (1..9) and no trailing zeros, for formulas. */
char *sag_number_figures(char out[SAG_NUMBER_ROOM], double value, int digits);

/* The value as sag_number_print() would show it. */
double sag_number_round(double value, int decimals);

#endif
