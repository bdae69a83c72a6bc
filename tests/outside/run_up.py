"""A second, independent writing of a run-up: one motor starts while others run, on a tree of impedances. Written from the
formulas in docs/method.md, not from the program; the network with all its saturation is one system of equations for a
general root finder, and the speeds go to a general integrator with tight tolerances. A plant as JSON on standard input,
lines of "name value" on standard output."""

import json
import math
import sys
import time

import numpy
import scipy.integrate
import scipy.optimize

ROOT3 = math.sqrt(3)


def leakage_left(share, amps):
    """Describing function of a clipped reactance, from twice rated amps on."""
    x = min(1.0, 2.0 / max(amps, 1e-9))
    return 1 - share * (1 - 2 / math.pi * (math.asin(x) + x * math.sqrt(1 - x * x)))


class Motor:
    def __init__(self, facts):
        self.__dict__.update(facts)
        self.ohms = self.volts / (ROOT3 * self.amps)
        self.torque_base = ROOT3 * self.volts * self.amps / self.sync
        knee = min(self.slip_breakdown, 0.5)
        self.share_of_way = lambda slip: max(0.0, (slip - knee) / (1 - knee))

    def circuit(self, slip, amps, flux):
        """Impedance before the gap, admittance across it, that of the rotor, at given amps and gap flux."""
        k = leakage_left(self.leakage_share, amps)
        rotor = 1 / (self.inner_r / slip + 1j * k * self.inner_x) + 1 / (self.outer_r / slip + 1j * k * self.outer_x)
        magnetising = (1 - self.main_flux + self.main_flux * min(flux, 1.6) ** 7) / self.magnet_x
        return self.stator_r + 1j * k * self.stator_x, 1 / self.core_r - 1j * magnetising + rotor, rotor

    def admittance(self, slip, amps, flux):
        """What the terminals see, per unit, the trim in it."""
        before, gap, _ = self.circuit(slip, amps, flux)
        return gap / (1 + before * gap) * (1 + (self.trim_amps - 1) * self.share_of_way(slip))

    def torque(self, slip, volts, amps, flux):
        before, gap, rotor = self.circuit(slip, amps, flux)
        across = volts / abs(1 + before * gap)
        x = self.share_of_way(slip)
        shape = (1 + (self.trim_torque - 1) * x) * (1 - self.saddle * (4 * x * (1 - x)) ** 2)
        rated = 1 - self.slip
        return across**2 * rotor.real * shape - self.friction / rated * ((1 - slip) / rated) ** 2

    def load(self, speed):
        n = max(speed, 0.0) / (1 - self.slip)
        torque = self.t0 + (1 - self.t0) * n**self.exponent
        if n < 0.1:
            torque += max(self.breakaway - torque, 0) * (1 - n / 0.1)
        return self.load_share * self.power / (1 - self.slip) * torque


class Plant:
    def __init__(self, facts):
        self.nodes = facts["nodes"]
        self.motors = [Motor(m) for m in facts["motors"]]
        self.started = facts["started"]
        self.on = [i != self.started for i in range(len(self.motors))]
        self.guess = None
        self.solutions = 0
        self.tolerance = facts["tolerance"]

    def first_guess(self):
        volts = [part for _ in self.nodes for part in (1.0, 0.0)]
        amps = [5.0 if i == self.started else 1.0 for i in range(len(self.motors))]
        return numpy.array(volts + [part for a in amps for part in (a, 0.9)])

    def unpack(self, unknown, slips):
        count = len(self.nodes)
        volts = [complex(unknown[2 * i], unknown[2 * i + 1]) * n["nominal"] for i, n in enumerate(self.nodes)]
        state = []
        for i, m in enumerate(self.motors):
            amps, flux = abs(unknown[2 * count + 2 * i]), abs(unknown[2 * count + 2 * i + 1])
            y = m.admittance(slips[i], amps, flux) / m.ohms
            branch = 1 + complex(m.branch_r, m.branch_x) * y
            state.append((amps, flux, y, y / branch, abs(volts[m.node] / branch)))
        return volts, state

    def miss(self, unknown, slips):
        volts, state = self.unpack(unknown, slips)
        into = [self.other(i, v) for i, v in enumerate(volts)]
        out = []
        for i, m in enumerate(self.motors):
            amps, flux, _, seen, line = state[i]
            before, gap, _ = m.circuit(slips[i], amps, flux)
            across = line / m.volts / abs(1 + before * gap)
            out += [abs(gap) * across - amps, across / m.gap_volts - flux]
            if self.on[i]:
                into[m.node] += volts[m.node] * seen
        for i in reversed(range(1, len(self.nodes))):
            into[self.nodes[i]["parent"]] += into[i]
        for i, n in enumerate(self.nodes):
            above = n["emf"] if n["parent"] < 0 else volts[n["parent"]]
            off = (above - complex(n["r"], n["x"]) * into[i] - volts[i]) / n["nominal"]
            out += [off.real, off.imag]
        return out

    def other(self, i, volts):
        """Current (times root 3) of the board's other load, of constant power."""
        node = self.nodes[i]
        return complex(node["watts"], -node["vars"]) / volts.conjugate() if node["watts"] else 0

    def solve(self, speeds):
        slips = [max(1 - s, 1e-6) for s in speeds]
        start = self.first_guess() if self.guess is None else self.guess
        found = scipy.optimize.root(self.miss, start, args=(slips,), tol=1e-11)
        if not found.success and max(map(abs, found.fun)) > 1e-8:
            sys.exit("network: " + found.message)
        self.guess = found.x
        self.solutions += 1
        return slips, *self.unpack(found.x, slips)

    def slopes(self, _, speeds):
        slips, _, state = self.solve(speeds)
        out = []
        for i, m in enumerate(self.motors):
            amps, flux, _, _, line = state[i]
            over = m.torque(slips[i], line / m.volts, amps, flux) - m.load(speeds[i])
            held = not self.on[i] or (speeds[i] <= 0 and over < 0)
            out.append(0.0 if held else m.torque_base * over / (m.inertia * m.sync))
        return out

    def integrate(self, speeds, seconds):
        done = scipy.integrate.solve_ivp(
            self.slopes,
            (0, seconds),
            speeds,
            method="LSODA",
            rtol=self.tolerance,
            atol=0.1 * self.tolerance,
            max_step=0.2,
            dense_output=True,
        )
        if not done.success:
            sys.exit("integration: " + done.message)
        return done


def last_time_at(run, index, speed, seconds):
    """The last time at which a speed is passed from below."""
    times = numpy.linspace(0, seconds, 20001)
    below = numpy.nonzero(run.sol(times)[index] < speed)[0]
    at = below[-1]
    return scipy.optimize.brentq(lambda t: run.sol(t)[index] - speed, times[at], times[at + 1])


def locked_amps(motor):
    """Per unit at rated volts and standstill, trim in it."""

    def miss(u):
        before, gap, _ = motor.circuit(1.0, abs(u[0]), abs(u[1]))
        across = 1 / abs(1 + before * gap)
        return [abs(gap) * across - abs(u[0]), across / motor.gap_volts - abs(u[1])]

    found = scipy.optimize.root(miss, [6.0, 0.5], tol=1e-12)
    return abs(motor.admittance(1.0, *map(abs, found.x)))


def main():
    facts = json.load(sys.stdin)
    plant = Plant(facts)
    count, started, seconds = len(plant.motors), plant.started, facts["seconds"]
    motor = plant.motors[started]
    before = plant.integrate([0.0 if i == started else 1 - m.slip for i, m in enumerate(plant.motors)], 20)
    speeds = before.y[:, -1]
    plant.on[started] = True
    plant.guess = None
    plant.solutions = 0
    began = time.perf_counter()
    run = plant.integrate(speeds, seconds)
    print("took", time.perf_counter() - began)
    final = run.y[started, -1]
    there = last_time_at(run, started, 0.99 * final, seconds)
    times = numpy.concatenate([numpy.linspace(0, 0.05, 101), numpy.linspace(0.05, there, 1500)])
    lines, heat = [], []
    locked = locked_amps(motor)
    for t in times:
        _, _, state = plant.solve(run.sol(t))
        lines.append(state[started][4])
        heat.append((abs(state[started][2]) * state[started][4] / ROOT3 / motor.amps / locked) ** 2)
    grid = run.sol(numpy.linspace(0, seconds, 20001))
    print("time_50", last_time_at(run, started, 0.5, seconds))
    print("time_90", last_time_at(run, started, 0.9, seconds))
    print("time_to_speed", there)
    print("volts_closing", lines[0])
    print("volts_lowest", min(lines))
    print("heat_used", numpy.trapz(heat, times))
    print("speed_end", final)
    for i in range(count):
        if i != started:
            print("speed_before_%d" % i, speeds[i])
            print("speed_lowest_%d" % i, grid[i].min())
    print("solutions", plant.solutions)


main()
