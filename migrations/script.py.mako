"""${message}.

Revision: ${up_revision}, after ${down_revision | comma,n}. The next one takes the next four-digit number:
`alembic -x db=FILE revision --autogenerate --rev-id 0002 -m "…"`; then raise HEAD in crib/store/upgrade.py.
A table rebuilt in batch mode loses its triggers: make them again.
"""

import sqlalchemy as sa
from alembic import op
${imports if imports else ""}
revision = ${repr(up_revision)}
down_revision = ${repr(down_revision)}
branch_labels = ${repr(branch_labels)}
depends_on = ${repr(depends_on)}


def upgrade() -> None:
    ${upgrades if upgrades else "pass"}


def downgrade() -> None:
    raise NotImplementedError("a store is not taken back: restore the copy that was kept beside it")
