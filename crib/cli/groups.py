"""A command with commands of its own, one of which is meant where none is named."""

import click


class WithUsual(click.Group):
    """A group with a command for nothing said, and perhaps one for a word that is no command.

    Attributes:
        bare: the command when nothing but options is said.
        named: the command when the first word is none; empty where that is a mistake.
    """

    bare = "list"
    named = ""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Put in the command that is meant."""
        if not args or (args[0].startswith("-") and args[0] not in ctx.help_option_names):
            args = [self.bare, *args]
        elif self.named and not args[0].startswith("-") and args[0] not in self.commands:
            args = [self.named, *args]
        return super().parse_args(ctx, args)
