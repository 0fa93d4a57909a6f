"""A catalogue checked: models with named options, under several editions and jurisdictions, each combination a record.

``items`` reads what a caller sends, ``expansion`` makes the cases, ``record`` judges one, ``folding`` sums all of them up.
"""

from nailplate.batch.expansion import Case, cases_of, key_of
from nailplate.batch.folding import Folding
from nailplate.batch.items import Batch, BatchRefused, Item, read_head, read_item
from nailplate.batch.record import Detail, Work, failed_record, record_of, refused_record
from nailplate.batch.summary import Tally

__all__ = [
    "Batch",
    "BatchRefused",
    "Case",
    "Detail",
    "Folding",
    "Item",
    "Tally",
    "Work",
    "cases_of",
    "failed_record",
    "key_of",
    "read_head",
    "read_item",
    "record_of",
    "refused_record",
]
