"""The true answer to every question about one trailer in one condition: physics where it can, the table of looks else."""

from __future__ import annotations

import math
from dataclasses import replace

from scripts.simulate.condition import SIDES, Condition, Press, crank_force_n, crank_moves, cranked, of, press
from scripts.simulate.draws import Random, stream
from scripts.simulate.faults import sound_speed
from scripts.simulate.sights import LOOKS, MAIN, NEEDS_MOTOR, NEEDS_TURNING, chance_of_yes
from scripts.simulate.trailer import LB_N, OPEN_OHM, Trailer

FREE_CRANK_N = 85.0  # about 19 lb at the handle: two hands from there on (common practice, no source)
Value = str | float


def yes(flag: bool) -> str:
    """The flag as an answer."""
    return "yes" if flag else "no"


def _soft(rng: Random, x: float, middle: float, width: float) -> bool:
    """True with a chance that rises from 0 to 1 about `middle`: people do not draw sharp lines."""
    if abs(x - middle) > 40 * width:
        return x > middle
    return rng.random() < 1 / (1 + math.exp(-(x - middle) / width))


def opening_seconds(amps: float, rating: float, breaker: bool) -> float:
    """Seconds until the guard opens: blade fuse about 60 s at 135 %, 1 s at 200 %, 0.2 s at 350 % (middle of the bands
    of ISO 8820-3, from memory); a bimetal breaker about ten times that above 135 % (common practice, no source)."""
    over = amps / rating
    if over < 1.1:
        return float("inf")
    points = [(1.1, 3600.0), (1.35, 60.0), (2.0, 1.0), (3.5, 0.2), (9.0, 0.05)]
    for (x0, y0), (x1, y1) in zip(points, points[1:], strict=False):
        if over <= x1:
            share = (over - x0) / (x1 - x0)
            return math.exp(math.log(y0) + share * (math.log(y1) - math.log(y0))) * (10 if breaker else 1)
    return 0.05


class Facts:
    """All true answers of one trailer with these causes in it."""

    def __init__(self, t: Trailer, c: Condition, causes: tuple[str, ...]):
        self.t, self.c, self.causes = t, c, causes
        self.values: dict[str, Value | None] = {}
        self.seconds_of_lift: float | None = None
        self.certain: set[str] = set()  # the main trouble: not mistaken by who lives with it
        self._looks()
        self._weights()
        if t.gear == "manual":
            self._manual()
        else:
            self._electric()
        self._crank()
        self._lengths()
        self._main()

    def rng(self, what: str) -> Random:
        """Draws for one finding; the same whatever else is asked, and before and after a repair."""
        return stream(self.t.seed, self.t.number, f"fact {what}")

    def _set(self, name: str, value: Value | None) -> None:
        self.values[name] = value

    def _looks(self) -> None:
        m = self.c.marks
        more: dict[str, float] = {}
        if m.get("mount") == "motor":
            more.update(
                motor_body_swings=0.9, leg_rocks_by_hand=0.12, mounting_bolts_tight=0.5, leg_leans=0.05
            )
        if m.get("motor") == "brushes":
            more["tapping_helps"] = 0.6
        if m.get("switch"):
            more["switch_jiggle_helps"] = {"both": 0.5, "one way": 0.35, "burnt": 0.75}[m["switch"]]
        if m.get("gap") == "near plug":
            more["switch_jiggle_helps"] = 0.06
        if m.get("drop"):
            more["leg_can_be_pushed_up_by_hand"] = {"stuck": 0.02, "pin worn": 0.3, "not seated": 0.55}[
                m["drop"]
            ]
            more["extra_drop_of_leg"] = {"stuck": 0.03, "pin worn": 0.45, "not seated": 0.65}[m["drop"]]
        if m.get("bar"):
            more["pin_missing"] = 0.85 if m["bar"] == "pin" else 0.2
        for name in LOOKS:
            self._set(name, yes(self.rng(name).random() < chance_of_yes(name, self._shown_by(name, m), more)))
        drop = m.get("drop")
        stuck = {"stuck": 0.9, "pin worn": 0.3, "not seated": 0.15}.get(drop or "", 0.06)
        stays = {"stuck": 0.8, "pin worn": 0.25, "not seated": 0.12}.get(drop or "", 0.96)
        self._set("drop_leg_slides", yes(self.rng("slides").random() >= stuck) if self.t.drop_leg else None)
        self._set("pin_stays_seated", yes(self.rng("stays").random() < stays) if self.t.drop_leg else None)
        if self.values["new_motor"] == "yes" and self.t.gear != "manual":
            went = (
                "motor_failed" in self.causes
                or "motor_shaft_sheared" in self.causes
                and self.rng("swap").random() < 0.4
            )
            self._set("same_fault_after_motor_swap", yes(not went))
        else:
            self._set("same_fault_after_motor_swap", None)

    def _main(self) -> None:
        """What the person calls about is seen by them, however the other looks fell."""
        if self.t.gear == "manual":
            for name in NEEDS_MOTOR:
                self._set(name, None)
        for cause in self.causes:
            signs = dict(MAIN.get(cause, {}))
            if self.c.marks.get("mount") == "motor" and cause == "mounting_loose":
                signs = {"motor_body_swings": "yes"}
            if not signs:
                continue
            plain = [n for n, v in signs.items() if self.values.get(n) == v]
            if not plain:
                plain = [self.rng("main").choice([n for n in signs if self.values.get(n) is not None])]
                self._set(plain[0], signs[plain[0]])
            self.certain.add(plain[0])

    def _shown_by(self, name: str, marks: dict[str, str]) -> tuple[str, ...]:
        """Causes that bear on a look; a motor's loose mount leaves the leg's own looks alone."""
        if marks.get("mount") == "motor" and name in (
            "leg_leans",
            "leg_rocks_by_hand",
            "mounting_bolts_tight",
            "play_at_foot",
        ):
            return tuple(c for c in self.causes if c != "mounting_loose")
        return self.causes

    def _weights(self) -> None:
        t, c = self.t, self.c
        extra = c.pin_lb - t.pin_lb
        self._set("gear", t.gear)
        self._set("support", t.support)
        self._set("hitched", yes(t.support == "hitched"))
        self._set("kingpin_locked", yes(t.support == "hitched"))
        self._set("gross_weight_lb", round(t.gross_lb + extra, -1))
        self._set("pin_weight_lb", round(c.pin_lb, -1))
        self._set("outer_tube_in", t.outer_in)
        self._set("inner_tube_in", t.inner_in)
        self._set("stroke_in", t.stroke_in)

    def _manual(self) -> None:
        """Hand crank: "moves" is what turning the crank does."""
        t, c = self.t, self.c
        force = crank_force_n(t, c)
        turned = force < 350  # what one person puts on a handle, common practice, no source
        moves = {s: turned and goes for s, goes in crank_moves(t, c).items()}
        self._movement(moves)
        self._set("cross_shaft_turns", yes(turned and bool(cranked(t, c)) and c.bar_parted != "near end"))
        self._set("far_leg_input_shaft_turns", yes(turned and t.far in cranked(t, c)))
        light = crank_force_n(t, c, share=0.0)
        usual = crank_force_n(t, of(t), share=0.0)
        free = turned and all(crank_moves(t, c, share=0.0).values()) and light < 2.2 * usual
        self._set("legs_run_with_weight_off", yes(free))
        for name in NEEDS_TURNING:
            if not turned:
                self._set(name, "no")

    def _movement(self, moves: dict[str, bool]) -> None:
        key = (moves["left"], moves["right"])
        word = {(True, True): "both", (True, False): "left", (False, True): "right"}.get(key, "neither")
        self._set("legs_moving", word)

    def _electric(self) -> None:
        t, c = self.t, self.c
        down, up = press(t, c, "extend"), press(t, c, "retract")
        quiet = c.guard_cycles
        works = {d: any(p.moves.values()) for d, p in (("extend", down), ("retract", up))}
        one_sided = t.gear == "two_motor" and down.moves["left"] != down.moves["right"]
        # The press a person talks about is the one that fails, else the one of the job they are at.
        self.direction = t.task
        worst = {d: self._ails(d, p) for d, p in (("extend", down), ("retract", up))}
        if worst[t.task] > 0.75:
            self.direction = min(worst, key=lambda d: worst[d])
        told = down if self.direction == "extend" else up
        best = {s: down.moves[s] or up.moves[s] for s in SIDES}
        # Where one direction works and the other does not, most speak of the one that fails.
        dead = any(told.moves.values()) or self.rng("speaks").random() < 0.65
        self._movement(told.moves if dead else best)
        self.watched = self._watched(told)
        word = {(True, True): "both", (True, False): "extend", (False, True): "retract"}.get(
            (self._full(down), self._full(up)), "neither"
        )
        if word == "neither" and (works["extend"] or works["retract"]):
            word = (
                "both" if works["extend"] and works["retract"] else "extend" if works["extend"] else "retract"
            )
        if one_sided and word == "both" and self.rng("of which").random() < 0.35:
            word = "neither"  # said of the leg that stays
        self._set("direction_that_works", word)
        self._set("button_response", self._heard(told))
        self._speed(told)
        self._lamps(told)
        self._guard(told, quiet)
        self._tries(told)
        self._readings(told)
        self._shafts(told)
        if one_sided or not told.turns:
            for name in NEEDS_TURNING & {"squeals"}:
                if not any(told.moves.values()):
                    self._set(name, "no")
        if not told.turns:
            self._set("clicking_at_top_of_leg", "no")
            if "leg_jammed_at_end_of_travel" not in self.causes:
                self._set("clicking_at_motor", "no")

    def _ails(self, direction: str, p: Press) -> float:
        """How far a press falls short: 0 where a leg stays, else the slowest motor's share of its usual speed."""
        if not all(p.moves.values()):
            return 0.0
        usual = press(self.t, of(self.t), direction, self.t.share)
        assert p.solved is not None
        assert usual.solved is not None
        return min(m.rad_s / usual.solved.motors[s].rad_s for s, m in p.solved.motors.items())

    def _full(self, p: Press) -> bool:
        return all(p.moves.values())

    def _watched(self, told: Press) -> str:
        """The side whose motor the person measures: the one in trouble."""
        if self.t.gear != "two_motor":
            return self.t.near
        assert told.solved is not None
        usual = press(self.t, of(self.t), self.direction, self.c.share)
        assert usual.solved is not None

        def share(side: str) -> float:
            assert told.solved is not None
            assert usual.solved is not None
            before = usual.solved.motors[side].rad_s
            return (
                told.solved.motors[side].rad_s / max(before, 1e-9) if told.moves[side] or before <= 0 else 0.0
            )

        loaded = {s: abs(self.c.legs[s].extra) + (self.c.legs[s].times - 1) for s in SIDES}
        return min(SIDES, key=lambda s: (round(share(s), 3), -loaded[s]))

    def _heard(self, told: Press) -> str:
        """What the press sounds like: a turning motor, a stalled one (hum), a relay, or nothing."""
        rng, c = self.rng("heard"), self.c
        assert told.solved is not None
        running = [m for m in told.solved.motors.values() if m.turns]
        mine = told.solved.motors[self.watched]
        if running and not told.chatter:
            if mine.turns or len(told.solved.motors) == 1:
                return "motor_runs"
            # The other leg's motor runs: most say what the dead side does.
            if rng.random() < 0.3:
                return "motor_runs"
        if told.chatter:
            return "clicks"
        if mine.amps > 12:
            if told.coil_clicks:
                return "hums" if rng.random() < (0.7 if mine.amps > 30 else 0.4) else "clicks"
            return "hums" if rng.random() < 0.8 else "clicks"
        if told.coil_clicks:
            return "clicks" if rng.random() < 0.92 else "silent"
        if c.marks.get("relay") == "one way":
            return "clicks"
        return "silent" if rng.random() < 0.93 else "clicks"

    def _speed(self, told: Press) -> None:
        t, c, rng = self.t, self.c, self.rng("speed")
        assert told.solved is not None
        mine = told.solved.motors[self.watched]
        sound = press(t, of(t), self.direction, t.share)
        assert sound.solved is not None
        usual = sound.solved.motors[self.watched].rad_s
        slow = (
            mine.turns and not told.chatter and usual > 0 and not _soft(rng, mine.rad_s / usual, 0.8, 0.025)
        )
        unloaded = mine.turns and not any(
            s in c.legs for s in _driven_by(t, c, self.watched)
        )  # nothing hangs on it
        self._set("motor_slow", yes(slow and not unloaded))
        if slow and not unloaded and all(told.moves.values()):
            self.certain.add("motor_slow")
        faster = self.rng("faster").random()
        self._set("runs_faster_than_usual", yes(mine.turns and faster < (0.75 if unloaded else 0.02)))
        if mine.turns and any(told.moves.values()):
            self.seconds_of_lift = 6 * 0.0254 / (mine.rad_s / t.reduction / (2 * math.pi) * t.screw.lead_m)
        light = press(t, c, self.direction, 0.0)
        easy = press(t, of(t), self.direction, 0.0)
        free = all(light.moves.values()) and light.speed > 0.75 * easy.speed and not c.guard_cycles
        self._set("legs_run_with_weight_off", yes(free))

    def _lamps(self, told: Press) -> None:
        t, c = self.t, self.c
        assert told.solved is not None
        rest = c.emf - t.house_a * c.battery_ohm
        if c.house_behind_joint:
            joint = c.plus_joint_ohm + c.minus_joint_ohm
            rest = 0.0 if joint > OPEN_OHM / 2 else rest - t.house_a * joint
        fall = rest - told.solved.house
        dims = rest > 8 and (fall > 1.1 if t.lamps == "bulb" else told.solved.house < 10.0 or fall > 2.6)
        self._set("lights_dim_when_button_pressed", yes(dims))
        self._set("lights_dead_too", yes(rest < 10.0))
        low = _soft(self.rng("low"), 11.9 - rest, 0.0, 0.12)
        self._set(
            "battery_low", yes(low or (c.marks.get("battery") == "worn" and self.rng("worn").random() < 0.3))
        )

    def _guard(self, told: Press, cycles: bool) -> None:
        t, c, rng = self.t, self.c, self.rng("guard")
        assert told.solved is not None
        per = told.solved.motors[self.watched].amps if t.gear == "two_motor" and len(t.motors) == 2 else 0.0
        amps = max(told.solved.amps, per)
        held = 60.0 if told.turns else rng.uniform(2, 8)
        trips = opening_seconds(amps, t.guard_a, t.guard != "fuse") < held
        # A motor's own thermal cut-out acts on its label, not on the guard: it cuts out and comes back.
        mine = told.solved.motors[self.watched]
        hot = (
            mine.turns
            and mine.amps > 1.35 * c.motors[self.watched].label_a
            and self.rng("hot").random() < 0.5
        )
        trips = trips or hot
        self._set("breaker_trips", yes(trips or cycles))
        self._set("fuse_ok", yes(c.guard_ohm < OPEN_OHM / 2 and not (cycles and rng.random() < 0.6)))
        helped = c.guard_ohm > OPEN_OHM / 2 and rng.random() < 0.35 or cycles or trips and rng.random() < 0.4
        self._set("breaker_reset_helped", yes(helped))
        heat = [c.plus_joint_ohm, c.minus_joint_ohm, c.guard_ohm, c.ground_ohm]
        amps = mine.amps
        watts = max(told.solved.amps**2 * r for r in heat if r < 100) if told.solved.amps > 1 else 0.0
        own = [
            c.lead_ohm[self.watched],
            c.leg_ground_ohm[self.watched],
            c.switch_ohm[self.watched, self.direction],
        ]
        watts = max([watts, *(amps**2 * r for r in own if r < 100)])
        metre = told.solved.amps**2 * c.feed_ohm / (0.7 * c.wire_ft * 0.3048) if c.feed_ohm < 100 else 0.0
        warm = _soft(self.rng("warm"), watts, 25, 5) or _soft(self.rng("warm wire"), metre, 12, 2)
        if warm and told.solved.amps > 5:
            self._set("wire_warm", "yes")

    def _tries(self, told: Press) -> None:
        """What bypassing the switch, or the way back, does."""
        t, c = self.t, self.c
        only = self.watched if t.gear == "two_motor" else None
        jumped = press(t, c, self.direction, jump=True, only=only)
        self._set("motor_runs_when_switch_jumped", yes(jumped.turns))
        grounded = press(t, c, self.direction, jumper_ground=True)
        self._set(
            "jumper_to_ground_helped", yes(grounded.speed > 1.2 * told.speed + 0.02 and not c.guard_cycles)
        )
        one_way = c.marks.get("relay") == "one way"
        self._set("one_direction_only_at_relay", yes(one_way) if t.control == "relay" else None)

    def _readings(self, told: Press) -> None:
        t, c, s = self.t, self.c, told.solved
        assert s is not None
        side = self.watched
        mine = s.motors[side]
        # A relay that chatters is on about half the time, and a meter shows the mean.
        on = 0.5 if told.chatter else 1.0
        rest = c.emf - t.house_a * c.battery_ohm
        self._set("volts_battery_resting", c.emf - 0.2 * c.battery_ohm)
        self._set("volts_battery_loaded", on * s.posts + (1 - on) * rest)
        self._set("volts_motor_loaded", on * mine.volts)
        self._set("volts_ground_drop", on * s.ground_rise[side])
        self._set("amps", on * mine.amps)
        speaks = c.switch_ohm[side, self.direction] < 50
        if t.control == "direct":
            self._set("volts_switch_in", s.behind_feed)
            self._set("volts_switch_out", s.contact_out[side])
            self._set("volts_relay_in", None)
            self._set("volts_relay_out", None)
        else:
            self._set("volts_switch_in", s.behind_guard)
            self._set("volts_switch_out", s.behind_guard if speaks else 0.0)
            self._set("volts_relay_in", s.behind_feed)
            self._set("volts_relay_out", s.contact_out[side])
        self._set("wire_gauge_awg", float(c.awg))
        self._set("wire_length_ft", c.wire_ft)
        self._set("fuse_rating_a", float(t.guard_a))
        self._set("motor_rating_a", float(round(c.motors[side].label_a)))

    def _shafts(self, told: Press) -> None:
        t, c = self.t, self.c
        if t.gear != "one_motor":
            return
        turning = told.turns and not told.chatter and t.near not in c.shaft_broken | c.gearbox_broken
        self._set("cross_shaft_turns", yes(turning and c.bar_parted != "near end"))
        self._set("far_leg_input_shaft_turns", yes(turning and not c.bar_parted))

    def _crank(self) -> None:
        """Fuse out, handle on: the watched side's motor circuit is dead, so only mechanics count."""
        t, c = self.t, self.c
        side = self.watched if t.gear == "two_motor" else t.near
        force = crank_force_n(t, c, side)
        usual = crank_force_n(t, of(t), side, share=c.share)
        stiff = _soft(self.rng("crank"), force, FREE_CRANK_N, 10) or _soft(
            self.rng("stiff"), force / usual, 1.9, 0.12
        )
        self._set("crank_turns_freely", yes(not stiff))
        if stiff and t.gear == "manual":
            self.certain.add("crank_turns_freely")
        turned = force < 350
        moved = {
            s: turned and s in cranked(t, c, side) and c.legs[s].follows and c.legs[s].bevel for s in SIDES
        }
        self._set("crank_moves_both_legs", yes(all(moved.values())) if t.gear != "two_motor" else None)
        self._set("crank_moves_legs", yes(any(moved.values())))
        if t.gear != "manual":
            bare = replace(c, motor_locked=set())
            force = crank_force_n(t, bare, side)
            stiff = _soft(self.rng("bare"), force, FREE_CRANK_N, 10) or _soft(
                self.rng("bare"), force / usual, 1.9, 0.12
            )
            free = not stiff
            self._set("crank_free_with_motor_off", yes(free))
        if not turned:
            self._set("grinding_when_cranked", "no")

    def _lengths(self) -> None:
        rng, c = self.rng("length"), self.c
        off = abs(rng.gauss(0, 0.22))
        moving = self.values.get("legs_moving")
        if "length" in c.numbers:
            off = c.numbers["length"]
        elif moving in ("left", "right"):
            off += (
                rng.choice((0.0, 1.0)) * rng.uniform(0.2, 4.0)
                if self.t.gear == "two_motor"
                else rng.uniform(0.2, 4.5)
            )
        elif c.marks.get("drop") and rng.random() < 0.35:
            off += rng.uniform(0.8, 4.0)
        elif {"ground_sinking_or_side_load", "leg_bent", "mounting_loose"} & set(
            self.causes
        ) and rng.random() < 0.25:
            off += rng.uniform(0.5, 2.0)
        self._set("leg_length_difference_in", off)
        self._set("legs_uneven", yes(off > 0.7 if self.rng("uneven").random() < 0.92 else off > 0.2))


def _driven_by(t: Trailer, c: Condition, side: str) -> tuple[str, ...]:
    from scripts.simulate.condition import driven

    return driven(t, c, side)


def facts_of(t: Trailer, c: Condition, causes: tuple[str, ...]) -> Facts:
    """Everything true about that trailer."""
    return Facts(t, c, causes)


__all__ = ["LB_N", "Facts", "facts_of", "opening_seconds", "sound_speed"]
