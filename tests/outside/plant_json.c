#include "outside/plant_json.h"

static void write_nodes(const struct rig *rig, FILE *to)
{
    fprintf(to, "{\"nodes\": [");
    for (size_t i = 0; i < rig->grid.node_count; i++) {
        const struct sag_grid_node *n = &rig->nodes[i];
        fprintf(to,
                "%s{\"parent\": %d, \"r\": %.17g, \"x\": %.17g, \"emf\": %.17g, \"nominal\": %.17g, \"watts\": %.17g, "
                "\"vars\": %.17g}",
                i ? ", " : "", n->parent, n->r, n->x, n->parent < 0 ? n->emf[SAG_CASE_NOMINAL] : 0, n->volts_nominal,
                n->load_watts, n->load_vars);
    }
}

static void write_motor(const struct sag_grid_motor *g, FILE *to)
{
    const struct sag_machine *m = &g->machine;
    const struct {
        const char *name;
        double value;
    } facts[] = {
        {"stator_r", m->stator_r},
        {"stator_x", m->stator_x},
        {"core_r", m->core_r},
        {"magnet_x", m->magnet_x},
        {"inner_r", m->inner_r},
        {"inner_x", m->inner_x},
        {"outer_r", m->outer_r},
        {"outer_x", m->outer_x},
        {"leakage_share", m->leakage_share},
        {"friction", m->friction},
        {"gap_volts", m->gap_volts},
        {"power", m->power},
        {"slip", m->slip},
        {"slip_breakdown", m->slip_breakdown},
        {"trim_amps", m->trim_amps},
        {"trim_torque", m->trim_torque},
        {"saddle", m->saddle},
        {"main_flux", g->main_flux},
        {"volts", g->volts_rated},
        {"amps", g->base.amps},
        {"sync", g->sync_rad_s},
        {"inertia", g->inertia},
        {"load_share", g->share},
        {"breakaway", g->load.breakaway},
        {"t0", g->load.t0},
        {"exponent", g->load.exponent},
        {"branch_r", g->branch_r},
        {"branch_x", g->branch_x},
    };
    fprintf(to, "{\"node\": %d", g->node);
    for (size_t i = 0; i < sizeof facts / sizeof *facts; i++)
        fprintf(to, ", \"%s\": %.17g", facts[i].name, facts[i].value);
    fprintf(to, "}");
}

void write_plant_json(const struct rig *rig, double seconds, double tolerance, FILE *to)
{
    write_nodes(rig, to);
    fprintf(to, "], \"motors\": [");
    for (size_t i = 0; i < rig->grid.motor_count; i++) {
        fputs(i ? ", " : "", to);
        write_motor(&rig->motors[i], to);
    }
    fprintf(to, "], \"started\": %d, \"seconds\": %.17g, \"tolerance\": %.17g}\n", RIG_STARTS, seconds, tolerance);
}
