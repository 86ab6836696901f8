"""Lines in Spanish or French: said so in that language, words of danger caught, a plain page named.

The program reads English alone. A line counts as one of these languages where at least three of its words, and two
in five, are words that this language uses and English does not. Findings are not taken from it: words that look alike
mean other things ("solo" is "only", not "alone"). Words of danger are few and plain, and a "nobody" or "no" shortly
before turns them off. Wording and word lists: the team's own, from memory, read over by nobody who speaks them daily.
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

from bot.frozen import dataclass

_FEWEST, _SHARE = 3, 0.4
_BEFORE = 4  # words before a word of danger in which it may be denied


@dataclass(frozen=True)
class Tongue:
    """What is known of a language: its own words, words of danger by kind, what denies them, and what is said in it."""

    words: frozenset[str]
    dangers: tuple[tuple[str, frozenset[str]], ...]
    denials: frozenset[str]
    says: str
    alarm: str


def _set(text: str) -> frozenset[str]:
    return frozenset(text.split())


PAGE = "set-up-and-unhitch-without-dropping-it"
TONGUES = (
    Tongue(
        _set(
            "el la los las un una unos unas de del al que y en es esta estan con por para pero como cuando si mi mis su se"
            " le lo no muy mas ya hay hace hacen solo sola funciona funcionan sube suben baja bajan subir bajar mueve mueven"
            " pata patas delantera delanteras pierna piernas remolque caravana casa rodante motor boton bateria fusible cable"
            " ruido clic camion enganchado ayuda favor quiero puedo nada nadie debajo izquierda derecha lado tiene tengo"
            " hermano hijo hija esposo esposa mujer marido nino ninos humo fuego cayo cae esta estoy estamos roto rota"
        ),
        (
            (
                "person hurt",
                _set("herido herida heridos atrapado atrapada aplastado aplastada sangre sangra sangrando"),
            ),
            ("person under it", _set("debajo")),
            ("smoke or runaway", _set("humo fuego incendio quema quemando llamas")),
            ("nose dropped", _set("cayo caido cayendo hunde hundiendo hundido derrumbo")),
        ),
        _set("no nadie sin ningun ninguna"),
        "Solo leo inglés. Escriba en inglés sencillo, una cosa por línea: qué hacen las patas delanteras, qué se oye, qué"
        " sostiene el frente. Si alguien está herido o debajo, o hay humo, o se hunde: aléjense todos y llamen al número"
        f" local de emergencias. Página sencilla, en inglés: read {PAGE}.",
        "Peligro: salgan todos de debajo, no toquen el botón ni la manivela, llamen al número local de emergencias.",
    ),
    Tongue(
        _set(
            "le la les un une des du de et en est sont avec pour mais comme quand si mon ma mes son sa ses se ce ca cela ne"
            " pas plus que qui il elle on nous je j'ai y a au aux sur sous dans fait font bouge bougent monte montent descend"
            " descendent marche marchent pied pieds bequille bequilles avant jambe jambes remorque caravane moteur bouton"
            " batterie fusible cable bruit clic camion attele aide svp plait rien personne dessous gauche droite cote j"
            " frere fils fille mari femme enfant enfants fumee feu tombe tombee casse cassee bloque bloquee c'est n'est"
        ),
        (
            ("person hurt", _set("blesse blessee blesses coince coincee ecrase ecrasee sang saigne")),
            ("person under it", _set("dessous")),
            ("smoke or runaway", _set("fumee feu incendie brule flammes")),
            ("nose dropped", _set("tombe tombee s'enfonce enfonce affaissee effondre")),
        ),
        _set("pas personne sans aucun aucune"),
        "Je ne lis que l'anglais. Écrivez en anglais simple, une chose par ligne : ce que font les béquilles avant, ce"
        " qu'on entend, ce qui porte l'avant. Si quelqu'un est blessé ou dessous, s'il y a de la fumée ou si cela"
        " s'enfonce : tout le monde s'éloigne, appelez le numéro d'urgence local. Page simple, en anglais :"
        f" read {PAGE}.",
        "Danger : tout le monde sort de dessous, ne touchez ni bouton ni manivelle, appelez le numéro d'urgence local.",
    ),
)
# Words of these lists that English has too: alone they make no line Spanish or French.
_SHARED = _set(
    "a on an no me y son pour sale fait si lo as sang motor cable fusible font marche camion pieds"
)


def _plain(text: str) -> list[str]:
    bare = "".join(c for c in unicodedata.normalize("NFD", text.lower()) if not unicodedata.combining(c))
    return re.findall(r"[a-z]+(?:'[a-z]+)?", bare.replace("’", "'"))


@lru_cache(256)
def tongue_of(text: str) -> Tongue | None:
    """The language of a line that is not English; None for English and for what is too short to tell.

    >>> tongue_of("las patas no bajan, solo hace clic") is TONGUES[0], tongue_of("les pieds ne bougent plus") is TONGUES[1]
    (True, True)
    >>> tongue_of("no motor, no hum, la la la"), tongue_of("si"), tongue_of("front legs won't go down at all")
    (None, None, None)
    """
    words = _plain(text)
    best: tuple[int, Tongue | None] = (0, None)
    for tongue in TONGUES:
        own = [w for w in words if w in tongue.words]
        sure = {w for w in own if w not in _SHARED}
        if len(own) >= max(_FEWEST, _SHARE * len(words)) and len(sure) >= 2 and len(own) > best[0]:
            best = (len(own), tongue)
    return best[1]


def danger_in(text: str, tongue: Tongue) -> str:
    """The kind of danger that a line in this language names, or "".

    >>> danger_in("ayuda, mi hermano está debajo", TONGUES[0]), danger_in("no hay nadie debajo", TONGUES[0])
    ('person under it', '')
    >>> danger_in("il y a de la fumée", TONGUES[1]), danger_in("il n'y a pas de fumée", TONGUES[1])
    ('smoke or runaway', '')
    """
    words = _plain(text)
    for kind, named in tongue.dangers:
        for at, word in enumerate(words):
            if word in named and not tongue.denials & set(words[max(0, at - _BEFORE) : at]):
                return kind
    return ""
