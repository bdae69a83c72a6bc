/* Checks in plain words, for the answer at the top of the page; everywhere else they have their own. */
#include <string.h>

#include "write/report_parts.h"

static const struct {
    const char *check, *words;
} rows[] = {
    {"band_high", "too many volts"},
    {"band_low", "too few volts"},
    {"lowest_pair", "too few volts between two lines"},
    {"unbalance", "the three volts too unequal"},
    {"derated_load", "more load than unequal volts leave"},
    {"running_amps", "more amps than its overload setting"},
    {"rise", "too warm"},
    {"plate_amps", "a plate that contradicts itself"},
    {"start_torque", "too little torque: it stands, or hangs until its starter changes over"},
    {"start_speed", "does not come up to speed"},
    {"start_inertia", "a load heavier to bring up than the standard asks of such a motor"},
    {"start_heat", "a start longer than its windings stand"},
    {"start_volts", "too few volts while it starts"},
    {"start_others", "others get too few volts while it starts"},
    {"start_collapse", "the supply does not carry its start"},
    {"capacity", "carries more than its own capacity"},
    {"capacity_fire", "carries more than its own capacity with the fire pump running"},
    {"fire_pump_start", "the fire pump gets too few volts while it starts"},
    {"fire_pump_run", "the fire pump gets too few volts running"},
    {"start_dragged", "drags running motors into stall"},
    {"start_coils", "contactors drop out while it starts"},
    {"fault_rating", "a fault brings more current than the gear is rated for"},
    {"wire_amps", "wires too small"},
    {"feeder_wire", "wires too small"},
    {"secondary_wire", "wires too small behind the transformer"},
    {"device_most", "a device larger than the code allows"},
    {"feeder_device_most", "a device larger than the code allows"},
    {"primary_device", "a primary device larger than the code allows"},
    {"secondary_device", "secondary devices larger than the code allows"},
    {"device_carry", "a device too small for what it must carry"},
    {"feeder_device_carry", "a device too small for what it must carry"},
    {"primary_locked", "a primary device too small for locked-rotor amps"},
    {"overload_most", "an overload setting larger than the code allows"},
    {"overload_carry", "an overload setting below the amps it runs with"},
    {"relay_passes", "its start trips its overload relay"},
    {"device_passes", "its start opens its device"},
    {"peak_passes", "the first peak of its start opens its breaker"},
};

const char *plainly_worded(size_t index)
{
    return index < sizeof rows / sizeof *rows ? rows[index].check : NULL;
}

const char *plain_words(const struct sag_check *check)
{
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        if (strcmp(rows[i].check, check->name) == 0)
            return rows[i].words;
    return check->meaning;
}
