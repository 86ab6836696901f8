"""The true answer to every question about one trailer in one condition: physics where it can, the table of looks else."""

from __future__ import annotations

from dataclasses import replace

from scripts.simulate.condition import SIDES, Condition, crank_force_n, crank_moves, cranked, of
from scripts.simulate.electric import Electric
from scripts.simulate.sights import LOOKS, MAIN, NEEDS_MOTOR, NEEDS_TURNING, chance_of_yes
from scripts.simulate.trailer import Trailer
from scripts.simulate.truth import FREE_CRANK_N, Value, opening_seconds, soft, yes


class Facts(Electric):
    """All true answers of one trailer with these causes in it."""

    def __init__(self, t: Trailer, c: Condition, causes: tuple[str, ...]):
        super().__init__(t, c, causes)
        self._looks()
        self._weights()
        if t.gear == "manual":
            self._manual()
        else:
            self._electric()
        self._crank()
        self._lengths()
        self._main()

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

    def _crank(self) -> None:
        """Fuse out, handle on: the watched side's motor circuit is dead, so only mechanics count."""
        t, c = self.t, self.c
        side = self.watched if t.gear == "two_motor" else t.near
        force = crank_force_n(t, c, side)
        usual = crank_force_n(t, of(t), side, share=c.share)
        stiff = soft(self.rng("crank"), force, FREE_CRANK_N, 10) or soft(
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
            stiff = soft(self.rng("bare"), force, FREE_CRANK_N, 10) or soft(
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


__all__ = ["Facts", "Value", "opening_seconds"]
