"""Choices by the hours alone, and the shop's plan that is made from them."""

from fabshop.reckoning.rough.choice import Choice, choose
from fabshop.reckoning.rough.plan import plan_shop
from fabshop.reckoning.rough.shop import shop_plan

__all__ = ["Choice", "choose", "plan_shop", "shop_plan"]
