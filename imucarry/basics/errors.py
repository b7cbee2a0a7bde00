"""The exceptions that imucarry raises, all of one family.

    ImucarryError
    |-- InputError            a file cannot be used
    |   |-- UnknownFormatError   it is not a table that is understood
    |   |-- ColumnError          a needed column is absent or ambiguous
    |   |-- UnitError            a unit is unknown or implausible
    |   |-- TimebaseError        the times cannot be trusted
    |   `-- SessionError         a session folder or one of its sheets is wrong
    |-- SettingsError         a settings file is wrong
    `-- OutputError           the results cannot be written there

A message says what is wrong, where it is and what to do.
"""

from __future__ import annotations


class ImucarryError(Exception):
    """Base of every error that imucarry raises on purpose.

    Parameters
    ----------
    message : str
        What is wrong and what to do.
    file : str, optional
        File that it was found in, as the user named it.
    where : str, optional
        Place in the file: a row, a column, a key.
    """

    def __init__(self, message: str, *, file: str = "", where: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.file = file
        self.where = where

    def __str__(self) -> str:
        place = ", ".join(part for part in (self.file, self.where) if part)
        return f"{place}: {self.message}" if place else self.message

    def __reduce__(self) -> tuple[object, ...]:
        # Errors cross process borders in a cohort run; keyword-only arguments
        # would be lost by the default way of pickling exceptions.
        return (_rebuild, (type(self), self.message, self.file, self.where))


def _rebuild(kind: type[ImucarryError], message: str, file: str, where: str) -> ImucarryError:
    return kind(message, file=file, where=where)


class InputError(ImucarryError):
    """A file cannot be used."""


class UnknownFormatError(InputError):
    """A file is not a table that is understood."""


class ColumnError(InputError):
    """A needed column is absent or ambiguous."""


class UnitError(InputError):
    """A unit is unknown, or the numbers contradict it."""


class TimebaseError(InputError):
    """The times of a file cannot be trusted."""


class SessionError(InputError):
    """A session folder or one of its sheets is wrong."""


class SettingsError(ImucarryError):
    """A settings file is wrong."""


class OutputError(ImucarryError):
    """Results cannot be written to the place that was named."""
