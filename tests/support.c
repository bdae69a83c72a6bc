#include "support.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

int make_folder(void **state)
{
    char folder[] = "/tmp/sagband-XXXXXX";
    *state = mkdtemp(folder) ? strdup(folder) : NULL;
    return *state ? 0 : -1;
}

int remove_folder(void **state)
{
    char command[80];
    snprintf(command, sizeof command, "rm -rf %s", (char *)*state);
    free(*state);
    return system(command);
}

const struct sag_tables *shared_tables(void)
{
    static struct sag_tables *tables;
    static struct sag_diags diags;
    if (!tables && sag_tables_open(&tables, &diags) != SAG_OK)
        fail_msg("tables: %s: %s", diags.count ? diags.items[0].at.file : "", diags.count ? diags.items[0].text : "");
    return tables;
}

void check_near(const char *name, double got, double wanted, double tolerance)
{
    if (!(fabs(got - wanted) <= tolerance))
        fail_msg("%s: got %.9g, wanted %.9g within %.3g", name, got, wanted, tolerance);
}

void check_percent(const char *name, double got, double wanted, double percent)
{
    check_near(name, got, wanted, fabs(wanted) * percent / 100);
}

void check_text(const char *name, const char *got, const char *wanted)
{
    if (strcmp(got, wanted) != 0)
        fail_msg("%s:\n got    %s\n wanted %s", name, got, wanted);
}

void complete_connected(const char *plate, const struct sag_connection *connection, struct sag_motor_list *list,
                        struct sag_motor *motor)
{
    struct sag_diags diags = {0};
    if (sag_read_plate(plate, shared_tables(), NULL, list, &diags) != SAG_OK)
        fail_msg("%s: %s", plate, diags.count ? diags.items[0].text : "?");
    sag_diags_free(&diags);
    sag_complete_motor(shared_tables(), &list->plates[0], connection, motor);
}

void complete_typed(const char *plate, double volts_ll, struct sag_motor_list *list, struct sag_motor *motor)
{
    complete_connected(plate, &(struct sag_connection){volts_ll, 60, 1 / sqrt(3.0)}, list, motor);
}
