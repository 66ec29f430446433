"""The addresses of this face, flat, grouped by noun; everybody adds lines."""

from __future__ import annotations

from django.urls import path

from fabshop.web import (
    go,
    hours,
    log,
    now,
    order,
    order_form,
    order_move,
    person,
    photo,
    receipt,
    settlement,
    sign_in,
    supplier,
    work,
)

urlpatterns = [
    path("", now.now, name="now"),
    path("blocked/", now.blocked, name="blocked"),
    # the taps of the bench
    path("tasks/<slug:code>/start/", work.task_start, name="task-start"),
    path("tasks/<slug:code>/stop/", work.task_stop, name="task-stop"),
    path("tasks/<slug:code>/done/", work.task_done, name="task-done"),
    path("tasks/<slug:code>/part-done/", work.task_part_done, name="task-part-done"),
    path("tasks/<slug:code>/stuck/", work.task_stuck, name="task-stuck"),
    # the shop log
    path("log/", log.log_list, name="log-list"),
    path("log/note/", log.log_note, name="log-note"),
    path("log/<str:client_id>/", log.log_entry, name="log-entry"),
    path("photos/<slug:digest>/<slug:size>/", photo.photo, name="photo"),
    path("go/<str:code>/", go.go, name="go"),
    # orders, and what came of them
    path("orders/", order.order_list, name="order-list"),
    path("orders/new/", order_form.order_new, name="order-new"),
    path("orders/<slug:code>/", order.order, name="order"),
    path("orders/<slug:code>/change/", order_form.order_change, name="order-change"),
    path("orders/<slug:code>/sent/", order_move.order_sent, name="order-sent"),
    path("orders/<slug:code>/slipped/", order_move.order_slipped, name="order-slipped"),
    path("orders/<slug:code>/give-up/", order_move.order_give_up, name="order-give-up"),
    path("orders/<slug:code>/goods-in/", receipt.order_receive, name="order-receive"),
    path("orders/<slug:code>/shut/", receipt.order_shut, name="order-shut"),
    path("orders/<slug:code>/counted/", receipt.order_counted, name="order-counted"),
    path("orders/<slug:code>/lines/new/", order_form.line_new, name="line-new"),
    path(
        "orders/<slug:code>/lines/<int:number>/",
        order_form.line_change,
        name="line-change",
    ),
    path(
        "orders/<slug:code>/lines/<int:number>/settle/",
        settlement.line_settle,
        name="line-settle",
    ),
    path("goods-in/", receipt.goods_in, name="goods-in"),
    path("penalty-shelf/", settlement.penalty_shelf, name="penalty-shelf"),
    path(
        "receipts/<int:pk>/take-back/",
        settlement.receipt_take_back,
        name="receipt-take-back",
    ),
    path("suppliers/", supplier.supplier_list, name="supplier-list"),
    path("suppliers/new/", supplier.supplier_new, name="supplier-new"),
    # who is in
    path("sign-in/", sign_in.sign_in, name="sign-in"),
    path("sign-in/<str:token>/", sign_in.sign_in_link, name="sign-in-link"),
    path("sign-out/", sign_in.sign_out, name="sign-out"),
    path("people/", person.people, name="people"),
    path("people/add/", person.person_add, name="person-add"),
    path("people/password/", person.password, name="password"),
    path("people/<int:pk>/link/", person.person_link, name="person-link"),
    path("people/<int:pk>/retire/", person.person_retire, name="person-retire"),
    path("people/<int:pk>/back/", person.person_back, name="person-back"),
    # hours
    path("hours/", hours.hours, name="hours"),
    path("hours/add/", hours.hours_add, name="hours-add"),
    path("hours/week/", hours.hours_week, name="hours-week"),
    path("hours/day/", hours.hours_day, name="hours-day"),
    path("hours/<int:pk>/remove/", hours.hours_remove, name="hours-remove"),
]
