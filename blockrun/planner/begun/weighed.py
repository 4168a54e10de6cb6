"""The agent in the foam that was weighed before batches poured: plans saved before have their stock without it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from blockrun.mix.bucket_of_foam import to_weigh_foam

if TYPE_CHECKING:
    from blockrun.planner.begun.facts import Begun
    from blockrun.site import Site


def with_agent_weighed(site: Site, begun: Begun | None) -> Site:
    """The site with what was on hand for these buckets, too, for what reckons with a bucket before every batch.

    The rules of a plan draw what goes into its batches alone, and by that the stock of plans saved before is reckoned
    back (`blockrun.planner.begun.facts.StockBegun`).

    Parameters
    ----------
    site : as `blockrun.planner.begun.site.site_begun` has it.
    begun : what had happened; None where the plan is the first.
    """
    if begun is None or begun.stock is None:
        return site
    agent = site.stock.foaming_agent
    there_l = agent.on_hand_l + len(begun.batches) * to_weigh_foam(site).agent_l
    stock = site.stock.model_copy(update={"foaming_agent": agent.model_copy(update={"on_hand_l": there_l})})
    return site.model_copy(update={"stock": stock})
