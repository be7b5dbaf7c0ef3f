"""The pack of a label as it was measured, and layouts around a jar, in columns and in pairs."""

from django.db import migrations, models


def _side() -> models.DecimalField:
    return models.DecimalField(blank=True, decimal_places=1, max_digits=5, null=True)


class Migration(migrations.Migration):
    dependencies = [("labels", "0010_versions_of_a_label")]

    operations = [
        migrations.AddField(
            model_name="labeldesign",
            name="pack_shape",
            field=models.CharField(
                blank=True,
                choices=[
                    ("box", "A box"),
                    ("slab", "A slab or wrapped block"),
                    ("jar", "A round jar"),
                ],
                max_length=8,
                null=True,
            ),
        ),
        *(
            migrations.AddField("labeldesign", name, _side())
            for name in (
                "pack_length_mm",
                "pack_width_mm",
                "pack_height_mm",
                "pack_diameter_mm",
            )
        ),
        migrations.AlterField(
            model_name="labeldesign",
            name="layout",
            field=models.CharField(
                choices=[
                    ("quiet", "Quiet: the name large, a rule, the facts"),
                    ("two-panel", "Two panels: front and facts"),
                    ("long", "Long: for wraps and lids"),
                    ("columns", "Columns: front, and the facts in two"),
                    ("wrap", "Around a jar: the front where it is seen, the facts at both sides"),
                    ("pair", "Front and back: two labels, the facts on the second"),
                ],
                default="quiet",
                max_length=9,
            ),
        ),
    ]
