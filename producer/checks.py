"""System checks: what this machine lacks, said before somebody needs it."""

from collections.abc import Sequence
from typing import Any

from django.apps import AppConfig
from django.core import checks

from producer.system_packages import label_line, missing_label_libraries


@checks.register()
def label_printing_has_its_libraries(
    app_configs: Sequence[AppConfig] | None, **kwargs: Any
) -> list[checks.CheckMessage]:
    """Costs and prices work without Pango; only the label PDF needs it."""
    return warnings_about(missing_label_libraries())


def warnings_about(missing: Sequence[str]) -> list[checks.CheckMessage]:
    """What to say when packages that label printing needs are missing."""
    if not missing:
        return []
    return [
        checks.Warning(
            "Labels cannot be printed yet: the text layout library Pango is missing.",
            hint=f"Type once: {label_line(missing)}",
            id="producer.W001",
        )
    ]
