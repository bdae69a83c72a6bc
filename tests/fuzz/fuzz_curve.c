#include <math.h>
#include <stdlib.h>

#include "fuzz/chain.h"
#include "fuzz/promises.h"
#include "sagband/protect.h"

/* A start of 500 A for 8 s behind a breaker of 100 A and a relay of 115 A. */
static const char plate[] = "rated_volts=460,rated_hp=50,rpm=1775,device=inverse_time_breaker,device_amps=100,"
                            "overload_amps=115,trip_class=20";

static void check_points(const struct sag_curve *curve)
{
    must(curve->count >= 2, "a curve has two points", "curve");
    for (size_t i = 0; i < curve->count; i++) {
        const struct sag_curve_point *p = &curve->points[i];
        must(p->seconds > 0 && isfinite(p->seconds) && p->multiple > 0 && isfinite(p->multiple), "points are numbers",
             "curve");
        must(i == 0 || (p->multiple > p[-1].multiple && p->seconds <= p[-1].seconds), "a curve falls", "curve");
    }
}

/* More amps never take longer, at points and between them. */
static void check_times(const struct sag_curve *curve)
{
    double before = INFINITY;
    for (double multiple = 0.4; multiple < 1500; multiple *= 1.07) {
        double seconds = sag_curve_time(curve, multiple);
        must(seconds <= before * (1 + 1e-12) && seconds > 0, "a curve falls between its points", "curve");
        before = seconds;
    }
}

static void check_passage(const struct sag_passage *p, const char *where)
{
    must(p->let == SAG_LET_YES || p->let == SAG_LET_NO, "a maker's curve says yes or no", where);
    must(sag_known(&p->used) && isfinite(p->used.high) && p->used.low == p->used.high, "by one share", where);
    must((p->let == SAG_LET_YES) == (p->used.high < 1), "which is the word", where);
}

static void let_start(const struct sag_tables *tables, const struct sag_curve *curve)
{
    struct sag_motor_list list = {0};
    struct sag_diags diags = {0};
    struct sag_motor motor;
    struct sag_motor_size size;
    struct sag_let_start out;
    struct sag_trace_row trace[] = {{.time = 0, .amps = 500}, {.time = 8, .amps = 500}, {.time = 8, .amps = 50}};
    struct sag_started started = {
        .amps_closing = 500, .amps_transfer = NAN, .time_to_speed = 8, .computed = true, .runs_up = true};
    const struct sag_run run = {.started = &started, .count = 1, .trace = trace, .trace_count = 3};
    must(sag_read_plate(plate, tables, NULL, &list, &diags) == SAG_OK, "the plate is right", "curve");
    const struct sag_connection connection = {480, 60, 1 / sqrt(3)};
    sag_complete_motor(tables, &list.plates[0], &connection, &motor);
    sag_size_motor(&(struct sag_size_job){.tables = tables, .list = &list}, &motor, false, &size);
    sag_find_let_start(&(struct sag_let_job){tables, &size, &motor, &run, 1, *curve, *curve}, &out);
    check_passage(&out.device, "device");
    check_passage(&out.relay, "relay");
    struct sag_relay relay = sag_relay_of(tables, &size, &motor, *curve);
    for (double preload = 0; preload <= 1; preload += 0.25)
        for (double amps = 10; amps < 20000; amps *= 1.5)
            must(sag_relay_time(tables, &relay, amps, preload).value >= 0, "a relay has a time", "curve");
    sag_motor_list_free(&list);
    sag_diags_free(&diags);
}

void fuzz_curve(const uint8_t *bytes, size_t size)
{
    const struct sag_input input = {.name = "curve.csv", .bytes = bytes ? (const char *)bytes : "", .size = size};
    struct sag_diags diags = {0};
    struct sag_curve_point *points;
    struct sag_curve curve = {0};
    enum sag_status status = sag_read_curve(&input, &points, &curve.count, &diags);
    curve.points = points;
    sag_diags_sort(&diags);
    must_explain(status, &diags);
    must((status == SAG_OK) == (points != NULL), "points if and only if it is read", "curve");
    if (status == SAG_OK) {
        check_points(&curve);
        check_times(&curve);
        let_start(chain_tables(), &curve);
    }
    free(points);
    sag_diags_free(&diags);
}

#ifdef FUZZ_ENTRY
int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size);
int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    fuzz_curve(bytes, size);
    return 0;
}
#endif
