"""Starts the service once, and asks it both: one joint, then 500 work orders."""

import one_joint
import work_orders
from shop import service

with service() as address:
    one_joint.show(address)
    print()
    work_orders.show(address)
