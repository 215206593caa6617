"""What all our schemas share."""

from marshmallow import EXCLUDE, RAISE, Schema


class Request(Schema):
    """A schema of what comes in: a member that is not declared is refused, never ignored."""

    class Meta:
        unknown = RAISE


class Part(Schema):
    """A schema of what goes out; members may be added in later versions."""

    class Meta:
        unknown = EXCLUDE
