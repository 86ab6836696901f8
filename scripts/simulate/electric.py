"""The true answers of a trailer with motors: what a press of the button does, sounds like, and measures."""

from __future__ import annotations

import math

from scripts.simulate.condition import SIDES, Press, driven, of, press
from scripts.simulate.sights import NEEDS_TURNING
from scripts.simulate.trailer import OPEN_OHM
from scripts.simulate.truth import Truth, opening_seconds, soft, yes


class Electric(Truth):
    """Answers that follow from the circuit with the button held."""

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
        slow = mine.turns and not told.chatter and usual > 0 and not soft(rng, mine.rad_s / usual, 0.8, 0.025)
        unloaded = mine.turns and not any(
            s in c.legs for s in driven(t, c, self.watched)
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
        low = soft(self.rng("low"), 11.9 - rest, 0.0, 0.12)
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
        warm = soft(self.rng("warm"), watts, 25, 5) or soft(self.rng("warm wire"), metre, 12, 2)
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
