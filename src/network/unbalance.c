#include <math.h>

#include "sagband/network.h"

double sag_unbalance(const double line[3])
{
    double average = (line[0] + line[1] + line[2]) / 3;
    double most = 0;
    for (int i = 0; i < 3; i++) {
        double off = fabs(line[i] - average);
        most = off > most ? off : most; /* a survey asks by the million, and fmax() is a call */
    }
    return most / average;
}

/* u2 = sqrt((1 - sqrt(3 - 6 b)) / (1 + sqrt(3 - 6 b))), b = sum of fourth powers over square of sum of squares.
   Three voltages that do not close a triangle have no answer. */
double sag_negative_share(const double line[3])
{
    double squares = 0, fourths = 0;
    for (int i = 0; i < 3; i++) {
        squares += line[i] * line[i];
        fourths += line[i] * line[i] * line[i] * line[i];
    }
    double root = 3 - 6 * fourths / (squares * squares);
    if (root < 0)
        return NAN;
    root = sqrt(root);
    return root >= 1 ? 0 : sqrt((1 - root) / (1 + root));
}
