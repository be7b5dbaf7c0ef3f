"""The door to the type setter: its warnings are errors, and nothing is fetched from outside."""

import pytest

from labels.rendering.engine import RenderingFault, type_setter


def set_html(html):
    with type_setter() as setter:
        return setter.lay_out(html, width_mm=60, height_mm=40).write_pdf()


def test_what_the_type_setter_warns_of_is_an_error():
    with pytest.raises(RenderingFault, match="unknown property"):
        set_html('<p style="colour: red">x</p>')


@pytest.mark.parametrize("url", ["https://example.org/x.png", "file:///etc/hostname", "data:,x"])
def test_nothing_is_loaded_into_a_label(url):
    with pytest.raises(RenderingFault):
        set_html(f'<img src="{url}">')


def test_a_fault_leaves_the_door_open_for_the_next_label():
    with pytest.raises(RenderingFault):
        set_html('<p style="nonsense: 1">x</p>')
    assert set_html("<p>x</p>").startswith(b"%PDF")
