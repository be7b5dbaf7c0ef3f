"""Addresses of the label pages, mounted under /labels/."""

from django.urls import URLPattern, URLResolver, include, path

from labels.views import (
    allergens,
    batches,
    check_sheets,
    cross_contact,
    designs,
    kitchen_sheet,
    nutrition,
    printing,
    tickets,
    versions,
    weighed,
    words,
)

of_a_product: list[URLPattern | URLResolver] = [
    path("", designs.label, name="label"),
    path("design/", designs.label_design, name="label_design"),
    path("sketch/", designs.label_sketch, name="label_sketch"),
    path("words/", words.label_words, name="label_words"),
    path("picture.png", designs.label_picture, name="label_picture"),
    path("proof.pdf", designs.label_proof, name="label_proof"),
    path("nutrition/<int:ingredient_pk>/", nutrition.label_trace, name="label_trace"),
    path("check.pdf", check_sheets.label_check_pdf, name="label_check_pdf"),
    path("versions/", versions.label_versions, name="label_versions"),
    path("print/", printing.label_print, name="label_print"),
    path("weighed/", weighed.label_weighed, name="label_weighed"),
    path("plan/", printing.label_plan, name="label_plan"),
    path("told/", allergens.label_told, name="label_told"),
]

in_a_kitchen: list[URLPattern | URLResolver] = [
    path("", designs.labels, name="labels"),
    path("printed/", printing.printed_labels, name="printed_labels"),
    path("printed/carrying/", versions.printed_carrying, name="printed_carrying"),
    path("printed/<int:pk>/check.pdf", check_sheets.printed_check_pdf, name="printed_check_pdf"),
    path("printed/<int:pk>/picture.png", check_sheets.printed_picture, name="printed_picture"),
    path("printed/<int:pk>/again/", versions.printed_reprint, name="printed_reprint"),
    path("printed/<int:pk>/", printing.printed_label, name="printed_label"),
    path("printed/<int:pk>/sheets.pdf", printing.printed_label_pdf, name="printed_label_pdf"),
    path("printed/<int:pk>/label.pdf", printing.printed_single_pdf, name="printed_single_pdf"),
    path("tickets/", tickets.tickets, name="tickets"),
    path("weighed/<int:pk>/", weighed.weighed_run, name="weighed_run"),
    path("weighed/<int:pk>/step/", weighed.weighed_step, name="weighed_step"),
    path("weighed/<int:pk>/cancel/", weighed.weighed_cancel, name="weighed_cancel"),
    path("weighed/<int:pk>/sheets.pdf", weighed.weighed_pdf, name="weighed_pdf"),
    path("sheets/", printing.sheets, name="sheets"),
    path("sheets/new/", printing.sheet_new, name="sheet_new"),
    path("sheets/<str:code>/test.pdf", printing.sheet_test, name="sheet_test"),
    path("batches/<int:pk>/", batches.batch_labels, name="batch_labels"),
    path("batches/<int:pk>/sheet.pdf", kitchen_sheet.batch_sheet, name="kitchen_sheet_pdf"),
    path("recipes/<int:pk>/sheet.pdf", kitchen_sheet.recipe_sheet, name="recipe_sheet_pdf"),
    path("allergens/", allergens.label_allergens, name="label_allergens"),
    path("allergens/sheet.pdf", allergens.label_allergens_pdf, name="label_allergens_pdf"),
    path("cross-contact/", cross_contact.label_cross_contact, name="label_cross_contact"),
    path("<int:product_pk>/", include(of_a_product)),
]

urlpatterns: list[URLPattern | URLResolver] = [
    path("k/<int:kitchen_id>/", include(in_a_kitchen)),
]
