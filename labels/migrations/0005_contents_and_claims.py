"""What the law of jam, curd and mincemeat asks of the finished food, and the claims made."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("labels", "0004_the_pan_of_a_label_stays"),
    ]

    operations = [
        migrations.AddField(
            model_name="labeldesign",
            name="claims",
            field=models.TextField(blank=True, max_length=400, null=True),
        ),
        migrations.AddField(
            model_name="labeldesign",
            name="egg_yolk_solids_g_per_kg",
            field=models.DecimalField(blank=True, decimal_places=1, max_digits=6, null=True),
        ),
        migrations.AddField(
            model_name="labeldesign",
            name="fat_g_per_kg",
            field=models.DecimalField(blank=True, decimal_places=1, max_digits=6, null=True),
        ),
        migrations.AddField(
            model_name="labeldesign",
            name="inner_flesh_g_per_kg",
            field=models.DecimalField(blank=True, decimal_places=1, max_digits=6, null=True),
        ),
        migrations.AddField(
            model_name="labeldesign",
            name="peel_g_per_kg",
            field=models.DecimalField(blank=True, decimal_places=1, max_digits=6, null=True),
        ),
        migrations.AddField(
            model_name="labeldesign",
            name="suet_g_per_kg",
            field=models.DecimalField(blank=True, decimal_places=1, max_digits=6, null=True),
        ),
        migrations.AddField(
            model_name="labeldesign",
            name="vine_fruit_g_per_kg",
            field=models.DecimalField(blank=True, decimal_places=1, max_digits=6, null=True),
        ),
    ]
