"""`dataclass(frozen=True)` that costs nothing until a value is made: a start makes a hundred types and uses thirty.

The standard decorator writes and compiles six methods for each type, which was a sixth of a cold start. Here the
methods are shared, and `__init__` is compiled when the first value of the type is made. Values compare, hash, show,
refuse to be changed, and answer `fields`, `replace` and `is_dataclass` as the standard ones do; types that ask for
more than `frozen=True` are made by the standard decorator.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from dataclasses import dataclass, field, replace
else:
    from operator import attrgetter

    _FACTORY = object()

    class _Field:
        """What a field is beside its name: its default, or what makes one, and whether it counts for == and repr."""

        def __init__(self, default, default_factory, compare, repr):
            self.default, self.default_factory, self.compare, self.repr = (
                default,
                default_factory,
                compare,
                repr,
            )

    def field(*, default=_FACTORY, default_factory=None, compare=True, repr=True):
        """A field with a default made anew for each value, or left out of == and repr."""
        return _Field(default, default_factory, compare, repr)

    def dataclass(cls=None, /, **asked):
        """The standard decorator; cheap where `frozen=True` is all that is asked."""
        if asked != {"frozen": True} or (cls is not None and cls.__dict__.get("__slots__")):
            import dataclasses

            return dataclasses.dataclass(cls, **asked) if cls else dataclasses.dataclass(**asked)
        return _made if cls is None else _made(cls)

    def _made(cls):
        names = [n for base in cls.__mro__[:0:-1] for n in base.__dict__.get("_own_fields", ())]
        own = tuple(n for n, t in cls.__dict__.get("__annotations__", {}).items() if not _apart(t))
        names = (*dict.fromkeys((*names, *own)),)
        cls._own_fields, cls._all_fields, cls.__match_args__ = own, names, names
        special = {n: f for n in names if isinstance(f := _default(cls, n), _Field)}
        cls._compared = tuple([n for n in names if n not in special or special[n].compare])
        cls._compare_by = attrgetter(*cls._compared) if len(cls._compared) > 1 else None
        cls._shown = tuple([n for n in names if n not in special or special[n].repr])
        given = cls.__dict__
        if "__init__" not in given:
            cls.__init__ = _first_init
        for name, method in _SHARED.items():
            if name not in given or (name == "__hash__" and given["__hash__"] is None):
                setattr(cls, name, method)
        return cls

    def _default(cls, name):
        return next((b.__dict__[name] for b in cls.__mro__ if name in b.__dict__), _FACTORY)

    def _apart(annotation):
        """Whether an annotation names a variable of the class."""
        return "ClassVar" in (annotation if isinstance(annotation, str) else repr(annotation))

    def _first_init(self, *values, **named):
        """Compiles the `__init__` of the type, which takes the place of this one, and goes on in it."""
        cls = next(c for c in type(self).__mro__ if c.__dict__.get("__init__") is _first_init)
        scope, head, body = {}, ["self"], []
        for n in cls._all_fields:
            default = _default(cls, n)
            if isinstance(default, _Field) and default.default_factory is None:
                default = default.default
            if isinstance(default, _Field):
                scope["_made_" + n] = default.default_factory
                head.append(f"{n}=_none")
                body.append(f"_to_[{n!r}] = _made_{n}() if {n} is _none else {n}")
                scope["_none"] = _FACTORY
                continue
            if default is _FACTORY:
                head.append(n)
            else:
                scope["_default_" + n] = default
                head.append(f"{n}=_default_{n}")
            body.append(f"_to_[{n!r}] = {n}")
        if hasattr(cls, "__post_init__"):
            body.append("self.__post_init__()")
        exec(
            f"def __init__({', '.join(head)}):\n _to_ = self.__dict__\n " + "\n ".join(body or ["pass"]),
            scope,
        )  # noqa: S102
        cls.__init__ = scope["__init__"]
        cls.__init__.__qualname__ = f"{cls.__qualname__}.__init__"
        cls.__init__(self, *values, **named)

    def _values(self):
        get = self._compare_by
        return get(self) if get is not None else tuple([getattr(self, n) for n in self._compared])

    def _repr(self):
        return f"{type(self).__qualname__}({', '.join(f'{n}={getattr(self, n)!r}' for n in self._shown)})"

    def _eq(self, other):
        if other.__class__ is not self.__class__:
            return NotImplemented
        return self is other or _values(self) == _values(other)

    def _hash(self):
        return hash(_values(self))

    def _refuse(self, name, value=None):
        from dataclasses import FrozenInstanceError

        raise FrozenInstanceError(f"cannot change field {name!r}")

    class _StandardFields:
        """The fields as the standard module knows them, made when somebody asks."""

        def __get__(self, instance, owner):
            import dataclasses

            fields = []
            for n in owner._all_fields:
                default = _default(owner, n)
                if isinstance(default, _Field) and default.default_factory is not None:
                    fields.append((n, object, dataclasses.field(default_factory=default.default_factory)))
                elif isinstance(default, _Field):
                    fields.append(
                        (
                            n,
                            object,
                            dataclasses.field(
                                default=default.default, compare=default.compare, repr=default.repr
                            ),
                        )
                    )
                elif default is _FACTORY:
                    fields.append((n, object))
                else:
                    fields.append((n, object, dataclasses.field(default_factory=lambda d=default: d)))
            found = dataclasses.make_dataclass(owner.__name__, fields, frozen=True).__dataclass_fields__
            owner.__dataclass_fields__ = found
            return found

    _SHARED = {
        "__repr__": _repr,
        "__eq__": _eq,
        "__hash__": _hash,
        "__setattr__": _refuse,
        "__delattr__": _refuse,
        "__dataclass_fields__": _StandardFields(),
        "__dataclass_params__": None,
    }

    def replace(value, /, **changes):
        """The value with some fields changed. Raises TypeError where a name is no field."""
        names = getattr(type(value), "_all_fields", None)
        if names is None:
            import dataclasses

            return dataclasses.replace(value, **changes)
        d = value.__dict__
        for n in names:
            if n not in changes:
                changes[n] = d[n] if n in d else getattr(value, n)
        return type(value)(**changes)


__all__ = ["dataclass", "field", "replace"]
