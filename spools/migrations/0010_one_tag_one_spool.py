"""A steel tag hangs on one open spool: the database itself keeps the second one off."""

from django.db import migrations, models
from django.db.models import Count

OPEN = models.Q(live=True, delivered_at=None) & ~models.Q(tag="")


def say_what_hangs_twice(apps, schema_editor):
    """Stop with words a person can act on, where a shop bound a number twice before this rule was here."""
    spools = apps.get_model("spools", "Spool").objects.filter(OPEN)
    twice = spools.values("shop", "tag").annotate(times=Count("id")).filter(times__gt=1).order_by("tag")
    words = []
    for row in twice:
        marks = spools.filter(shop=row["shop"], tag=row["tag"]).order_by("id").values_list("tie_in__mark", flat=True)
        words.append(f"tag {row['tag']} hangs on {' and '.join(marks)}")
    if words:
        raise RuntimeError(f"Bind another tag to all but one of these, then migrate again: {'; '.join(words)}.")


class Migration(migrations.Migration):
    """Look first, then hold."""

    dependencies = [("spools", "0009_obstacles")]

    operations = [
        migrations.RunPython(say_what_hangs_twice, migrations.RunPython.noop),
        migrations.AddConstraint(
            model_name="spool",
            constraint=models.UniqueConstraint(fields=["shop", "tag"], condition=OPEN, name="tag_on_one_open_spool"),
        ),
    ]
