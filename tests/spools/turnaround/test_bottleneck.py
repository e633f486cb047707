"""A bottleneck is named only when load and queue agree."""

from spools.turnaround.bottleneck import StepLoad, bottleneck

WELD = StepLoad("weld", load_h=40, able_h=32, queue_before=9, queue_now=21)
GROOVE = StepLoad("groove", load_h=10, able_h=16, queue_before=6, queue_now=4)


def test_two_signs_that_agree_name_the_step():
    found = bottleneck([WELD, GROOVE])
    assert found.step == "weld"
    assert found.words == "weld: 40 h of work in the next 2 shifts, 32 h able; its queue went from 9 to 21."


def test_signs_that_disagree_name_nothing():
    growing = StepLoad("groove", load_h=10, able_h=16, queue_before=4, queue_now=40)
    found = bottleneck([WELD, growing])
    assert (found.step, found.words) == (None, "No single bottleneck.")
    assert (found.by_load, found.by_queue) == ("weld", "groove")


def test_a_step_that_can_do_its_load_is_no_bottleneck():
    easy = StepLoad("weld", load_h=30, able_h=32, queue_before=9, queue_now=21)
    assert bottleneck([easy, GROOVE]).step is None


def test_a_queue_that_shrinks_is_no_sign():
    shrinking = StepLoad("weld", load_h=40, able_h=32, queue_before=21, queue_now=9)
    assert bottleneck([shrinking, GROOVE]).step is None


def test_a_tie_is_no_sign():
    twin = StepLoad("saw", load_h=40, able_h=32, queue_before=9, queue_now=10)
    assert bottleneck([WELD, twin]).by_load is None


def test_work_without_any_able_bench_is_the_highest_load():
    down = StepLoad("groove", load_h=4, able_h=0, queue_before=2, queue_now=30)
    assert (
        bottleneck([WELD, down]).words
        == "groove: 4 h of work in the next 2 shifts, nobody able; its queue went from 2 to 30."
    )


def test_no_steps_have_no_bottleneck():
    assert bottleneck([]).step is None
