"""Words on keeping that a label may use: proposed from a batch, chosen by the maker."""

from dataclasses import dataclass

from costing.models import Batch, Kitchen, Recipe
from costing.reckoning.keeping_words import KeepingWords, keeping
from costing.selectors.batches import batches_of
from costing.services.batch_stove import stove_plan

NOT_PROMISED = (
    "Proposed from this lot, never promised: choose only what your own trials bear out, and ask "
    "your food authority."
)


@dataclass(frozen=True)
class StorageWords:
    """What a label may say of keeping, and of which lot it is said.

    sentences: words to choose from; asks: what is not known and would change them.
    """

    batch: Batch
    sentences: tuple[str, ...]
    asks: tuple[str, ...]
    cautions: tuple[str, ...]
    caution: str = NOT_PROMISED


def storage_words(batch: Batch) -> StorageWords | None:
    """Words from the Brix and the pH of a finished batch; None where no Brix was measured."""
    if batch.end_brix is None or batch.status != Batch.Status.FINISHED:
        return None
    said: KeepingWords = keeping(stove_plan(batch), brix=batch.end_brix, ph=batch.ph)
    return StorageWords(
        batch=batch,
        sentences=said.storage,
        asks=tuple(ask.sentence for ask in said.asks),
        cautions=said.cautions,
    )


def latest_storage_words(kitchen: Kitchen, *, recipe: Recipe) -> StorageWords | None:
    """Words from the latest finished batch of a recipe whose Brix was measured."""
    rows = batches_of(kitchen, recipe=recipe).filter(
        status=Batch.Status.FINISHED, end_brix__isnull=False
    )
    latest = rows.first()
    return None if latest is None else storage_words(latest)
