"""Addresses. All of a kitchen lives under /k/<kitchen>/, so that a link names its kitchen."""

from django.urls import URLPattern, URLResolver, include, path

from costing.views import (
    accounts,
    cook_answers,
    cook_finish,
    cook_inputs,
    cook_put_right,
    cook_start,
    cook_stove,
    cooks,
    ingredients,
    kitchens,
    moulds,
    pans,
    planners,
    products,
    purchases,
    recipe_editing,
    recipes,
    today,
)

in_a_kitchen: list[URLPattern | URLResolver] = [
    # --- Kitchen -----------------------------------------------------------------------------
    path("", today.today, name="today"),
    path("kitchen/", kitchens.kitchen, name="kitchen"),
    path("kitchen/lot/", kitchens.kitchen_lot, name="kitchen_lot"),
    path("people/", kitchens.people, name="people"),
    # --- Prices ------------------------------------------------------------------------------
    path("ingredients/", ingredients.ingredients, name="ingredients"),
    path("ingredients/new/", ingredients.ingredient_new, name="ingredient_new"),
    path("ingredients/<int:pk>/", ingredients.ingredient, name="ingredient"),
    path("ingredients/<int:pk>/edit/", ingredients.ingredient_edit, name="ingredient_edit"),
    path("ingredients/<int:pk>/price/", purchases.price_new, name="price_new"),
    path("pantry/", ingredients.pantry, name="pantry"),
    path("prices/<int:pk>/void/", purchases.price_void, name="price_void"),
    path("suppliers/", purchases.suppliers, name="suppliers"),
    path("suppliers/new/", purchases.supplier_new, name="supplier_new"),
    path("suppliers/<int:pk>/", purchases.supplier, name="supplier"),
    path("suppliers/<int:pk>/edit/", purchases.supplier_edit, name="supplier_edit"),
    # --- Recipes: the cost of a kilo ---------------------------------------------------------
    path("recipes/", recipes.recipes, name="recipes"),
    path("recipes/new/", recipe_editing.recipe_new, name="recipe_new"),
    path("recipes/reckon/", recipe_editing.recipe_reckon, name="recipe_reckon"),
    path("recipes/<int:pk>/", recipes.recipe, name="recipe"),
    path("recipes/<int:pk>/edit/", recipe_editing.recipe_edit, name="recipe_edit"),
    path("recipes/<int:pk>/versions/", recipes.recipe_versions, name="recipe_versions"),
    # --- Cooks: when to stop, and what came of it --------------------------------------------
    path("cooks/", cooks.cooks, name="cooks"),
    path("cooks/new/", cook_start.cook_start, name="cook_start"),
    path("cooks/<int:pk>/", cook_stove.cook, name="cook"),
    path("cooks/<int:pk>/events/", cook_stove.cook_event, name="cook_event"),
    path("cooks/<int:pk>/answer/", cook_answers.cook_answer, name="cook_answer"),
    path("cooks/<int:pk>/ph/", cook_answers.cook_ph, name="cook_ph"),
    path("cooks/<int:pk>/stove-worker.js", cook_answers.cook_worker, name="cook_worker"),
    path("cooks/<int:pk>/inputs/", cook_inputs.cook_inputs, name="cook_inputs"),
    path("cooks/<int:pk>/finish/", cook_finish.cook_finish, name="cook_finish"),
    path("cooks/<int:pk>/correct/", cook_finish.cook_correct, name="cook_correct"),
    path("cooks/<int:pk>/put-right/", cook_put_right.cook_put_right, name="cook_put_right"),
    path("cooks/<int:pk>/sheet/", cook_finish.cook_sheet, name="cook_sheet"),
    path("pans/", pans.pans, name="pans"),
    path("pans/new/", pans.pan_new, name="pan_new"),
    path("pans/<int:pk>/edit/", pans.pan_edit, name="pan_edit"),
    path("moulds/", moulds.moulds, name="moulds"),
    path("moulds/new/", moulds.mould_new, name="mould_new"),
    path("moulds/<int:pk>/edit/", moulds.mould_edit, name="mould_edit"),
    path("moulds/<int:pk>/plan/", planners.mould_plan, name="mould_plan"),
    path("jars/", planners.jars, name="jars"),
    path("density/", planners.density_test, name="tub_density"),
    # --- Products: the price at the stall ----------------------------------------------------
    path("products/", products.products, name="products"),
    path("products/new/", products.product_new, name="product_new"),
    path("products/<int:pk>/", products.product, name="product"),
    path("products/<int:pk>/edit/", products.product_edit, name="product_edit"),
    path("products/<int:pk>/reckon/", products.product_reckon, name="product_reckon"),
]

urlpatterns: list[URLPattern | URLResolver] = [
    path("", accounts.start, name="start"),
    path("sign-in/", accounts.sign_in, name="sign_in"),
    path("sign-out/", accounts.sign_out, name="sign_out"),
    path("demo/", accounts.demo_sign_in, name="demo_sign_in"),
    path("welcome/", accounts.welcome, name="welcome"),
    path("kitchens/new/", kitchens.kitchen_new, name="kitchen_new"),
    path("k/<int:kitchen_id>/", include(in_a_kitchen)),
]
