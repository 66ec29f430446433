"""The foot of a sheet with its QR, and states as the same stamps as on the phone."""

from __future__ import annotations

from typing import Any

from django import template
from django.template import Context
from django.utils.html import format_html
from django.utils.safestring import SafeString

from fabshop import words
from fabshop.paper.sheet import qr

register = template.Library()


@register.inclusion_tag("paper/_foot.html", takes_context=True)
def foot(context: Context, path: str = "", step: int | None = None) -> dict[str, Any]:
    """The foot of the page: its QR leads to `path`, else to the sheet's own place.

    A foot given again further down is that of the pages from there on.
    """
    sheet = context["sheet"]
    address = f"{context['base_url']}{path or sheet.path}"
    return {
        "sheet": sheet,
        "made": context["made"],
        "digest": context["digest"],
        "address": address,
        "code": f"{sheet.code} {step}" if step else sheet.code,
        "qr": qr(address),
        "is_again": bool(path),
    }


@register.simple_tag(takes_context=True)
def qr_small(context: Context, path: str) -> str:
    """The QR of one place on the phone, as the address of an image."""
    return qr(f"{context['base_url']}{path}")


@register.simple_tag(takes_context=True)
def joint_qr(context: Context, path: str) -> SafeString:
    """A QR in a column of a table, to a page of its own on the phone."""
    address = f"{context['base_url']}{path}"
    return format_html(
        '<img class="cell-qr" src="{}" alt="{}">', SafeString(qr(address)), address
    )


@register.simple_tag
def stamp(word: words.Word) -> SafeString:
    """A state as a word in a box with the edge that it has on the phone."""
    return format_html(
        '<span class="stamp stamp--{}">{}</span>', word.edge, word.label.upper()
    )
