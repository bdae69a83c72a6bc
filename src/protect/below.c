#include "protect/below.h"

#include <math.h>

struct below below_nothing(void)
{
    struct below b = {.largest = SIZE_MAX};
    for (int k = 0; k < SAG_DEVICE_KINDS; k++)
        b.branch_motor[k] = SIZE_MAX;
    return b;
}

/* Of equal branch devices the motor with most amps is the one that leaves the sum. */
static void take_branch(struct below *to, int kind, double device, double amps, size_t motor)
{
    double *most = &to->branch_device[kind], *its = &to->branch_amps[kind];
    if (device < *most || (device == *most && amps <= *its) || motor == SIZE_MAX)
        return;
    *most = device;
    *its = amps;
    to->branch_motor[kind] = motor;
}

static void take_largest(struct below *to, double amps, size_t motor)
{
    if (amps <= to->largest_amps)
        return;
    to->largest_amps = amps;
    to->largest = motor;
}

static void take_locked(struct below *to, double locked, double amps)
{
    if (locked <= to->fire_locked)
        return;
    to->fire_locked = locked;
    to->fire_locked_amps = amps;
}

void below_add(struct below *to, const struct below *from, double ratio)
{
    to->motors += from->motors;
    to->sized += from->sized;
    to->high += from->high;
    to->all_amps += ratio * from->all_amps;
    to->load_amps += ratio * from->load_amps;
    to->jockey_locked += ratio * from->jockey_locked;
    to->jockey_amps += ratio * from->jockey_amps;
    to->fire_amps += ratio * from->fire_amps;
    to->fire_pumps += from->fire_pumps;
    to->pump_room += from->pump_room;
    take_largest(to, ratio * from->largest_amps, from->largest);
    take_locked(to, ratio * from->fire_locked, ratio * from->fire_locked_amps);
    for (int k = 0; k < SAG_DEVICE_KINDS; k++)
        take_branch(to, k, ratio * from->branch_device[k], ratio * from->branch_amps[k], from->branch_motor[k]);
}

/* Branch devices count as the kind of the feeder's, and by the table's own percentage with its step up. */
void below_add_motor(struct below *to, const struct sag_motor_size *m, uint8_t duty)
{
    double amps = m->code_amps.value;
    if (m->sizing == SAG_SIZED_NOT)
        return;
    to->motors++;
    to->all_amps += amps;
    take_largest(to, amps, m->index);
    to->sized += m->sizing == SAG_SIZED;
    to->high += m->sizing == SAG_SIZED_HIGH_VOLTS;
    for (int k = SAG_DEVICE_DUAL_ELEMENT_FUSE; k < SAG_DEVICE_KINDS; k++)
        if (m->feeder_branch[k] > 0)
            take_branch(to, k, m->feeder_branch[k], amps, m->index);
    if (duty == SAG_DUTY_FIRE_PUMP) {
        to->fire_pumps++;
        to->pump_room++;
        to->fire_amps += amps;
        take_locked(to, m->locked_amps.value, amps);
    } else if (duty == SAG_DUTY_JOCKEY_PUMP) {
        to->pump_room++;
        to->jockey_amps += amps;
        to->jockey_locked += m->locked_amps.value;
    }
}

bool below_is_pump_room(const struct below *b)
{
    return b->fire_pumps > 0 && b->pump_room == b->motors;
}
