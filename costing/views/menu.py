"""The menu, in the order of the work, by what a person's role may open."""

from dataclasses import dataclass

from django.urls import reverse

from costing.models import Member

OWNER, COOK, STALL_HAND, ACCOUNTANT = (
    Member.Role.OWNER,
    Member.Role.COOK,
    Member.Role.STALL_HAND,
    Member.Role.ACCOUNTANT,
)


@dataclass(frozen=True)
class MenuItem:
    """One word of the menu. is_current: the page belongs to it; is_here: it is the page."""

    word: str
    url: str
    is_current: bool
    is_here: bool


# Word, the page it opens, the beginnings of the paths that belong to it, who may open it.
_PLACES = (
    ("Today", "today", (), (OWNER, COOK, ACCOUNTANT)),
    ("Prices", "ingredients", ("ingredients/", "suppliers/", "pantry/", "prices/"),
     (OWNER, ACCOUNTANT)),
    ("Ingredients", "ingredients", ("ingredients/", "pantry/"), (COOK,)),
    ("Recipes", "recipes", ("recipes/",), (OWNER, COOK)),
    ("Cooks", "cooks", ("cooks/", "pans/", "moulds/", "jars/", "density/", "lessons/"),
     (OWNER, COOK)),
    ("Products", "products", ("products/",), (OWNER, STALL_HAND)),
    ("Labels", "labels", (), (OWNER, COOK)),
    ("Allergens", "label_allergens", (), (STALL_HAND,)),
    ("Kitchen", "kitchen", ("kitchen/", "people/"), (OWNER,)),
)  # fmt: skip


def menu_of(member: Member, *, path: str) -> list[MenuItem]:
    """The words this person sees, with the current one marked."""
    home = reverse("today", args=[member.kitchen_id])
    items = []
    for word, name, beginnings, roles in _PLACES:
        if member.role not in roles:
            continue
        url = reverse(name, args=[member.kitchen_id])
        starts = tuple(home + part for part in beginnings)
        if not starts and name != "today":
            starts = (url,)
        is_here = path == url
        items.append(
            MenuItem(
                word=word,
                url=url,
                is_current=is_here or bool(starts and path.startswith(starts)),
                is_here=is_here,
            )
        )
    return items


def first_page(member: Member) -> str:
    """Where a person starts: Today, or the list of products for a stall hand."""
    name = "products" if member.role == STALL_HAND else "today"
    return reverse(name, args=[member.kitchen_id])
