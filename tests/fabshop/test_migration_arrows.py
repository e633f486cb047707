"""The database's arrows point the same way as the imports, and no model is ahead of its migrations."""

import pytest
from django.core.management import call_command
from django.db.migrations.loader import MigrationLoader


@pytest.fixture(scope="module")
def migrations():
    return MigrationLoader(None).disk_migrations


def stands_on(migrations, app: str) -> set[str]:
    """Return the apps that an app's migrations depend on."""
    ours = [migration for (label, _), migration in migrations.items() if label == app]
    return {needed for migration in ours for needed, _ in migration.dependencies}


def test_no_migration_of_spools_stands_on_cutlists_or_the_wiring(migrations):
    assert not stands_on(migrations, "spools") & {"cutlists", "fabshop"}


def test_the_migrations_of_cutlists_stand_on_spools(migrations):
    assert "spools" in stands_on(migrations, "cutlists")
    assert "fabshop" not in stands_on(migrations, "cutlists")


def test_no_field_of_spools_points_at_cutlists():
    from django.apps import apps

    pointed_at = {
        field.related_model._meta.app_label
        for model in apps.get_app_config("spools").get_models()
        for field in model._meta.get_fields()
        if field.is_relation and field.concrete and field.related_model
    }
    assert pointed_at <= {"spools", "auth", "contenttypes"}


def test_each_app_has_one_newest_migration():
    assert MigrationLoader(None).detect_conflicts() == {}


@pytest.mark.django_db
def test_no_model_is_ahead_of_its_migrations():
    call_command("makemigrations", check=True, dry_run=True, verbosity=0)
