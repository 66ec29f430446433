from datetime import datetime

import pytest

from fabshop.actions.order.supplier import add_supplier
from fabshop.errors import BadInput, Clash, NotAllowed
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person


def test_a_supplier_gets_a_code_from_its_name(owner: Person, now: datetime) -> None:
    firm = add_supplier(by=owner, name=" Nib & Burr\nCutting ", now=now)
    assert (firm.name, firm.code) == ("Nib & Burr Cutting", "nib-burr-cutting")
    assert LogEntry.objects.get().text == "Supplier added: Nib & Burr Cutting"
    assert add_supplier(by=owner, name="Nib-Burr Cutting", now=now).code == (
        "nib-burr-cutting-2"
    )
    assert add_supplier(by=owner, name="鋼", now=now).code == "supplier"


def test_one_name_or_code_is_one_supplier(owner: Person, now: datetime) -> None:
    add_supplier(by=owner, name="Ostler", code="ost", now=now)
    with pytest.raises(Clash, match="There is a supplier OSTLER already"):
        add_supplier(by=owner, name="OSTLER", now=now)
    with pytest.raises(Clash, match="with the code ost already"):
        add_supplier(by=owner, name="Other", code="ost", now=now)
    with pytest.raises(BadInput, match="Name: nothing is written"):
        add_supplier(by=owner, name=" ", now=now)


def test_a_helper_adds_none(helper: Person, now: datetime) -> None:
    with pytest.raises(NotAllowed, match="Only the owner"):
        add_supplier(by=helper, name="Ostler", now=now)
