"""Words of warning on a mix: what is unusual about it, and what that does in the yard."""

from __future__ import annotations

from typing import Final

from blockrun.mix.asked import Asked
from blockrun.mix.proportions import Proportions
from blockrun.mix.refusals import USUAL
from blockrun.mix.weighing import foam_said
from blockrun.units import listed, show, show_share

STIFF_SLURRY: Final = 0.35
THIN_SLURRY: Final = 0.70
MUCH_FIBRE: Final = 0.02
MUCH_FOAM: Final = 0.65
USUAL_FOAM_KG_M3: Final = (90.0, 100.0)
THIN_MIX: Final = 1.0
LIGHT_FOR_SAND_KG_M3: Final = 1000.0
DAMP: Final = 0.05
"""Water in sand from a heap, of its dry mass, to show what it does (common practice, no source)."""


def notes(mix: Proportions, foam_density_kg_m3: float, *, units: str = "SI", asked: Asked | None = None) -> list[str]:
    """Say what a builder should know before mixing; nothing here stops a batch.

    Parameters
    ----------
    mix : the mix.
    foam_density_kg_m3 : of its foam.
    units : ``SI`` or ``US``, for the densities printed.
    asked : the mix as it is asked for: what other foam does hangs on what is held; if None, the water of the slurry and
        the oven-dry density are.

    Returns
    -------
    One text a note: slurry water/cement under 0.35 or over 0.70, foam over 0.65 of the volume, foam outside 90 to
    100 kg/m3, all water over 1.0 of the cement, anything beside cement, fibre over 2 % of the cement, damp sand, sand
    in a mix under 1000 kg/m3 as poured; empty for an ordinary mix. Fly ash and lime count as cement where water is
    told.

    Source
    ------
    Stiff slurry draws water from foam: Nambiar and Ramamurthy 2008, second-hand; 0.35 and 0.70 are our choice, 2 % of
    fibre is from memory. Unstable
    from 65 % of foam: Bagheri and Samea, J. Mater. Civ. Eng., abstract. Foam of 90 to 100 g/L and what wetter
    foam does, total water/cement over 1.0, and neat cement before all else: common practice, no source. Aggregate is
    usually left out under 1000 kg/m3: Concrete Society, note on foamed concrete.
    """
    every = (
        _on_stiff_slurry(mix),
        _on_thin_slurry(mix),
        _on_much_foam(mix),
        _on_other_foam(mix, foam_density_kg_m3, units, asked),
        _on_thin_mix(mix, asked),
        _on_further_solids(mix),
        _on_much_fibre(mix),
        _on_damp_sand(mix),
        _on_light_mix_with_sand(mix, units),
    )
    return [text for text in every if text]


def _on_stiff_slurry(mix: Proportions) -> str:
    ratio = mix.slurry_water_powder
    if ratio >= STIFF_SLURRY:
        return ""
    return (
        f"Stiff slurry: its water is {ratio:.2f} of the {_powder(mix)}, under {STIFF_SLURRY}. So dry a slurry draws "
        "water out of the foam and breaks bubbles: the mix turns out heavier and the batch makes less than planned."
    )


def _on_thin_slurry(mix: Proportions) -> str:
    ratio = mix.slurry_water_powder
    if ratio <= THIN_SLURRY or mix.total_water_powder > THIN_MIX:  # that note says more
        return ""
    low, high = USUAL["slurry_water_cement"]
    return (
        f"Thin slurry: its water is {ratio:.2f} of the {_powder(mix)}, where {low:.2f} to {high:.2f} is usual. In a "
        "thin slurry bubbles rise, and the dry block is weaker and shrinks more."
    )


def _on_much_foam(mix: Proportions) -> str:
    if mix.foam_volume_m3 <= MUCH_FOAM:
        return ""
    return (
        f"Much foam: {_percent(mix.foam_volume_m3)} of the volume, over {_percent(MUCH_FOAM)}. So light a mix may not "
        "hold its bubbles: they join and rise, and the block sinks in the mould or sets with large holes. Pour at "
        "once, do not vibrate, and weigh every batch; a slurry that flows easily holds foam better than a stiff one."
    )


def _on_other_foam(mix: Proportions, foam_density_kg_m3: float, units: str, asked: Asked | None) -> str:
    lightest, heaviest = USUAL_FOAM_KG_M3
    if lightest <= foam_density_kg_m3 <= heaviest:
        return ""
    foam, low, high = (foam_said(density, units) for density in (foam_density_kg_m3, lightest, heaviest))
    is_wet = foam_density_kg_m3 > heaviest
    return (
        f"{'Wet' if is_wet else 'Dry'} foam: {foam}, where {low} to {high} is usual. It brings "
        f"{_percent(mix.foam_kg / mix.total_water_kg)} of all the water: {_done_by_foam(is_wet, asked)}"
    )


def _done_by_foam(is_wet: bool, asked: Asked | None) -> str:
    """What such foam does beside the usual one, by what of the mix is held."""
    if _is_by_all_water(asked):
        kept = "all the water, and the weight wet and dry, stay as asked"
        if is_wet:
            return f"less is left for the slurry, so the slurry is stiffer and draws water out of the foam; {kept}."
        return f"more is left for the slurry, so the slurry is thinner than with the usual foam; {kept}."
    by_wet = asked is not None and asked.wet_density_kg_m3 is not None
    if is_wet:
        weight = "lighter dry, for it holds less cement" if by_wet else "heavier wet"
        return (
            f"the mix is thinner than with the usual foam, and {weight}. In a thin mix the bubbles rise, and the batch "
            "can go flat."
        )
    weight = "heavier dry, for it takes more cement" if by_wet else "lighter wet"
    return (
        f"the mix is stiffer than with the usual foam, and {weight}. A stiff mix draws water out of the foam: weigh it "
        "wet before pouring."
    )


def _is_by_all_water(asked: Asked | None) -> bool:
    return asked is not None and asked.water_cement is not None


def _on_thin_mix(mix: Proportions, asked: Asked | None) -> str:
    if mix.total_water_powder <= THIN_MIX:
        return ""
    return (
        f"Thin mix: all the water, slurry and foam together, is {mix.total_water_powder:.2f} of the {_powder(mix)}, "
        f"over {THIN_MIX}. It sets slowly, settles and lets its bubbles rise, and the dry block is weaker and shrinks "
        f"more. {'Less water' if _is_by_all_water(asked) else 'Less slurry water or drier foam'} mends it."
    )


def _on_further_solids(mix: Proportions) -> str:
    if not mix.further:
        return ""
    return (
        f"More than cement: with {listed(list(mix.further))} a fault is harder to find. Get neat cement right first: "
        "foam, slurry, wet weight and a block that holds."
    )


def _on_much_fibre(mix: Proportions) -> str:
    share = mix.fibre_kg / mix.cement_kg
    if share <= MUCH_FIBRE:
        return ""
    return (
        f"Much fibre: {_percent(share)} of the cement, over {_percent(MUCH_FIBRE)} (from memory). So much balls up, "
        "and the mix no longer flows."
    )


def _on_damp_sand(mix: Proportions) -> str:
    if not mix.sand_kg:
        return ""
    if mix.sand_moisture:
        return (
            f"Damp sand: it holds {_percent(mix.sand_moisture)} of water, so it is weighed with it, and "
            f"{_percent(mix.sand_water_kg / mix.slurry_water_kg)} of the slurry water comes with the sand. All of it "
            "counts as mixing water; what the grains soak up themselves (often 1 % or so, from memory) stiffens the "
            "slurry. Weigh it."
        )
    brought = DAMP * mix.sand_kg / mix.slurry_water_kg
    return (
        f"Damp sand: sand counts dry here. Where it holds {_percent(DAMP)} of water, weigh {_percent(DAMP)} more of it "
        f"and pour {_percent(brought)} less slurry water. Dry a sample in a pan to see "
        "how damp it is, and write moisture under sand in the stock of the site: cards then reckon with it."
    )


def _on_light_mix_with_sand(mix: Proportions, units: str) -> str:
    if not mix.sand_kg or mix.wet_density_kg_m3 >= LIGHT_FOR_SAND_KG_M3:
        return ""
    wet, limit = (show(round(density), "density", units) for density in (mix.wet_density_kg_m3, LIGHT_FOR_SAND_KG_M3))
    return (
        f"Light for sand: {wet} as poured. Under {limit} sand is usually left out: grains break bubbles and sink. "
        "A finer sand sinks less."
    )


def _powder(mix: Proportions) -> str:
    """What the water makes flow."""
    return listed([name for name in ("cement", "fly ash", "lime") if name == "cement" or name in mix.further])


def _percent(share: float) -> str:
    return show_share(round(share, 3))
