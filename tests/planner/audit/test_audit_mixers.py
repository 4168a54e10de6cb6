"""Batches beside each other."""


def test_two_batches_in_one_mixer_at_once_are_found(based):
    """All three in the small mixer, whose times do for batch 2 too: 07:30 to 07:47, twice."""
    big = based.site.mixers[0].model_copy(update={"slurry_time_min": 5, "pour_time_min": 5, "name": "big"})
    based.change_site(mixers=(big, *based.site.mixers[1:]))
    based.set("batches", {"batch": 2}, start="05T07:33", foam_at="05T07:38", pour_from="05T07:40", pour_to="05T07:45")
    based.set("batches", {"batch": 2}, end="05T07:50")
    based.set("tasks", {"batch": 2}, start="05T07:33", end="05T07:50")
    based.set("casts", {"batch": 2}, poured="05T07:45")
    assert based.broken() == []
    based.set("batches", {"batch": 2}, mixer="small")
    assert based.said() == ["batch 2 starts in the small Mon 5 Apr 07:33, but batch 1 is in it until Mon 5 Apr 07:47"]


def test_two_mixers_that_need_foam_at_once_are_found(based):
    """Foam goes into batch 1 from 07:35 to 07:37 and into batch 2 from 07:40. Four minutes later they meet.

    So that the later pour is not stripped too young, the ages asked for are less.
    """
    based.change_part_of_site("curing", strip_at_h=20.0)
    slab = based.site.moulds[0].model_copy(update={"sides_off_at_h": 5.0})
    based.change_site(moulds=(slab, based.site.moulds[1]))
    based.batch_later(1, 3)
    based.set("casts", {"batch": 1}, ready="09T07:30")
    assert based.broken() == []
    based.batch_later(1, 1)
    based.set("casts", {"batch": 1}, ready="09T07:30")
    assert based.said() == [
        "batch 2 needs foam at Mon 5 Apr 07:40, but the generator serves batch 1 until Mon 5 Apr 07:41"
    ]
