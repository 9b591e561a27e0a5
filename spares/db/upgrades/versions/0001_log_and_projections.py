"""The log, and the tables that are made from it."""

import sqlalchemy as sa
from alembic import op
from sqlmodel.sql.sqltypes import AutoString as Text

revision = '0001'
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table('cell',
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('part', Text(), nullable=False),
        sa.Column('locker', Text(), nullable=False),
        sa.Column('lot', Text(), nullable=False),
        sa.Column('quantity', sa.BigInteger(), nullable=False),
        sa.Column('low', sa.BigInteger(), nullable=False),
        sa.Column('high', sa.BigInteger(), nullable=False),
        sa.Column('doubts', sa.JSON(), nullable=True),
        sa.Column('rivals', sa.JSON(), nullable=True),
        sa.Column('flags', sa.JSON(), nullable=True),
        sa.Column('counted_at', Text(), nullable=False),
        sa.PrimaryKeyConstraint('vessel', 'part', 'locker', 'lot', name=op.f('pk_cell'))
    )
    with op.batch_alter_table('cell', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_cell_locker'), ['locker'], unique=False)

    op.create_table('cross_number',
        sa.Column('id', Text(), nullable=False),
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('gone', sa.Boolean(), nullable=False),
        sa.Column('part', Text(), nullable=True),
        sa.Column('maker', Text(), nullable=True),
        sa.Column('number', Text(), nullable=True),
        sa.Column('what', Text(), nullable=True),
        sa.PrimaryKeyConstraint('vessel', 'id', name=op.f('pk_cross_number'))
    )
    with op.batch_alter_table('cross_number', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_cross_number_part'), ['part'], unique=False)

    op.create_table('effect',
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('change_id', Text(), nullable=False),
        sa.Column('part', Text(), nullable=False),
        sa.Column('locker', Text(), nullable=False),
        sa.Column('lot', Text(), nullable=False),
        sa.PrimaryKeyConstraint('vessel', 'change_id', 'part', 'locker', 'lot', name=op.f('pk_effect'))
    )
    op.create_table('failure',
        sa.Column('id', Text(), nullable=False),
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('gone', sa.Boolean(), nullable=False),
        sa.Column('part', Text(), nullable=True),
        sa.Column('machine', Text(), nullable=True),
        sa.Column('figures', sa.JSON(), nullable=True),
        sa.Column('note', sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint('vessel', 'id', name=op.f('pk_failure'))
    )
    with op.batch_alter_table('failure', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_failure_part'), ['part'], unique=False)

    op.create_table('fit_check',
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('change_id', Text(), nullable=False),
        sa.Column('point', Text(), nullable=False),
        sa.Column('part', Text(), nullable=False),
        sa.Column('verdict', Text(), nullable=False),
        sa.Column('inputs', sa.JSON(), nullable=True),
        sa.Column('at', Text(), nullable=False),
        sa.PrimaryKeyConstraint('vessel', 'change_id', name=op.f('pk_fit_check'))
    )
    op.create_table('fitting',
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('change_id', Text(), nullable=False),
        sa.Column('point', Text(), nullable=False),
        sa.Column('part', Text(), nullable=False),
        sa.Column('date', Text(), nullable=False),
        sa.Column('at', Text(), nullable=False),
        sa.Column('voided', sa.Boolean(), nullable=False),
        sa.PrimaryKeyConstraint('vessel', 'change_id', name=op.f('pk_fitting'))
    )
    with op.batch_alter_table('fitting', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_fitting_point'), ['point'], unique=False)

    op.create_table('inner_point',
        sa.Column('id', Text(), nullable=False),
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('gone', sa.Boolean(), nullable=False),
        sa.Column('no', Text(), nullable=True),
        sa.Column('name', Text(), nullable=True),
        sa.Column('part', Text(), nullable=True),
        sa.Column('pieces', sa.Integer(), nullable=True),
        sa.Column('weight', Text(), nullable=True),
        sa.Column('kind', Text(), nullable=True),
        sa.Column('place', sa.JSON(), nullable=True),
        sa.PrimaryKeyConstraint('vessel', 'id', name=op.f('pk_inner_point'))
    )
    with op.batch_alter_table('inner_point', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_inner_point_part'), ['part'], unique=False)

    op.create_table('keep',
        sa.Column('id', Text(), nullable=False),
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('gone', sa.Boolean(), nullable=False),
        sa.Column('part', Text(), nullable=True),
        sa.Column('q', sa.BigInteger(), nullable=True),
        sa.PrimaryKeyConstraint('vessel', 'id', name=op.f('pk_keep'))
    )

    op.create_table('kit_line',
        sa.Column('id', Text(), nullable=False),
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('gone', sa.Boolean(), nullable=False),
        sa.Column('service', Text(), nullable=True),
        sa.Column('part', Text(), nullable=True),
        sa.Column('q', sa.BigInteger(), nullable=True),
        sa.Column('set_aside', sa.Boolean(), nullable=True),
        sa.Column('share', Text(), nullable=True),
        sa.PrimaryKeyConstraint('vessel', 'id', name=op.f('pk_kit_line'))
    )
    with op.batch_alter_table('kit_line', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_kit_line_service'), ['service'], unique=False)

    op.create_table('link',
        sa.Column('id', Text(), nullable=False),
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('gone', sa.Boolean(), nullable=False),
        sa.Column('part', Text(), nullable=True),
        sa.Column('to', Text(), nullable=True),
        sa.Column('use', Text(), nullable=True),
        sa.Column('role', Text(), nullable=True),
        sa.Column('proof', Text(), nullable=True),
        sa.Column('with_part', Text(), nullable=True),
        sa.Column('note', sa.Text(), nullable=True),
        sa.Column('on', Text(), nullable=True),
        sa.PrimaryKeyConstraint('vessel', 'id', name=op.f('pk_link'))
    )
    with op.batch_alter_table('link', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_link_part'), ['part'], unique=False)
        batch_op.create_index(batch_op.f('ix_link_to'), ['to'], unique=False)

    op.create_table('locker',
        sa.Column('id', Text(), nullable=False),
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('gone', sa.Boolean(), nullable=False),
        sa.Column('no', Text(), nullable=True),
        sa.Column('name', Text(), nullable=True),
        sa.Column('parent', Text(), nullable=True),
        sa.Column('code', Text(), nullable=True),
        sa.Column('aboard', sa.Boolean(), nullable=True),
        sa.Column('reachable', sa.Boolean(), nullable=True),
        sa.Column('lent_to', Text(), nullable=True),
        sa.Column('climate', Text(), nullable=True),
        sa.Column('note', sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint('vessel', 'id', name=op.f('pk_locker'))
    )
    with op.batch_alter_table('locker', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_locker_code'), ['code'], unique=False)
        batch_op.create_index(batch_op.f('ix_locker_no'), ['no'], unique=False)

    op.create_table('logbook',
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('epoch', Text(), nullable=False),
        sa.Column('key', sa.LargeBinary(), nullable=False),
        sa.Column('seq', sa.BigInteger(), nullable=False),
        sa.Column('head', Text(), nullable=False),
        sa.Column('last_ms', sa.BigInteger(), nullable=False),
        sa.Column('adj_ms', sa.BigInteger(), nullable=False),
        sa.Column('last_at', Text(), nullable=False),
        sa.PrimaryKeyConstraint('vessel', name=op.f('pk_logbook'))
    )
    op.create_table('lot',
        sa.Column('id', Text(), nullable=False),
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('gone', sa.Boolean(), nullable=False),
        sa.Column('part', Text(), nullable=True),
        sa.Column('condition', Text(), nullable=True),
        sa.Column('expires', Text(), nullable=True),
        sa.Column('batch', Text(), nullable=True),
        sa.Column('reserved', sa.BigInteger(), nullable=True),
        sa.Column('code', Text(), nullable=True),
        sa.Column('lies_in', Text(), nullable=True),
        sa.Column('note', sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint('vessel', 'id', name=op.f('pk_lot'))
    )
    with op.batch_alter_table('lot', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_lot_code'), ['code'], unique=False)
        batch_op.create_index(batch_op.f('ix_lot_part'), ['part'], unique=False)

    op.create_table('machine',
        sa.Column('id', Text(), nullable=False),
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('gone', sa.Boolean(), nullable=False),
        sa.Column('no', Text(), nullable=True),
        sa.Column('name', Text(), nullable=True),
        sa.Column('model', Text(), nullable=True),
        sa.Column('maker', Text(), nullable=True),
        sa.Column('serial', Text(), nullable=True),
        sa.Column('place', Text(), nullable=True),
        sa.Column('counter', Text(), nullable=True),
        sa.Column('counter_of', Text(), nullable=True),
        sa.Column('code', Text(), nullable=True),
        sa.Column('hazards', Text(), nullable=True),
        sa.Column('weight', Text(), nullable=True),
        sa.Column('note', sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint('vessel', 'id', name=op.f('pk_machine'))
    )
    with op.batch_alter_table('machine', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_machine_code'), ['code'], unique=False)
        batch_op.create_index(batch_op.f('ix_machine_no'), ['no'], unique=False)

    op.create_table('part',
        sa.Column('id', Text(), nullable=False),
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('gone', sa.Boolean(), nullable=False),
        sa.Column('no', Text(), nullable=True),
        sa.Column('name', Text(), nullable=True),
        sa.Column('maker', Text(), nullable=True),
        sa.Column('number', Text(), nullable=True),
        sa.Column('kind', Text(), nullable=True),
        sa.Column('unit', Text(), nullable=True),
        sa.Column('made', Text(), nullable=True),
        sa.Column('dropped_on', Text(), nullable=True),
        sa.Column('taken_over_by', Text(), nullable=True),
        sa.Column('price', sa.JSON(), nullable=True),
        sa.Column('lead_days', sa.Integer(), nullable=True),
        sa.Column('pack', sa.BigInteger(), nullable=True),
        sa.Column('mass_g', sa.BigInteger(), nullable=True),
        sa.Column('seller', Text(), nullable=True),
        sa.Column('use', Text(), nullable=True),
        sa.Column('note', sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint('vessel', 'id', name=op.f('pk_part'))
    )
    with op.batch_alter_table('part', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_part_no'), ['no'], unique=False)

    op.create_table('photo_ref',
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('change_id', Text(), nullable=False),
        sa.Column('doc', Text(), nullable=False),
        sa.Column('sha256', Text(), nullable=False),
        sa.Column('bytes', sa.BigInteger(), nullable=False),
        sa.Column('mime', Text(), nullable=False),
        sa.Column('voided', sa.Boolean(), nullable=False),
        sa.PrimaryKeyConstraint('vessel', 'change_id', name=op.f('pk_photo_ref'))
    )
    with op.batch_alter_table('photo_ref', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_photo_ref_doc'), ['doc'], unique=False)

    op.create_table('point',
        sa.Column('id', Text(), nullable=False),
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('gone', sa.Boolean(), nullable=False),
        sa.Column('no', Text(), nullable=True),
        sa.Column('name', Text(), nullable=True),
        sa.Column('machine', Text(), nullable=True),
        sa.Column('parent', Text(), nullable=True),
        sa.Column('as_part', Text(), nullable=True),
        sa.Column('template', Text(), nullable=True),
        sa.Column('pieces', sa.Integer(), nullable=True),
        sa.Column('weight', Text(), nullable=True),
        sa.Column('kind', Text(), nullable=True),
        sa.Column('place', sa.JSON(), nullable=True),
        sa.Column('hazards', Text(), nullable=True),
        sa.Column('note', sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint('vessel', 'id', name=op.f('pk_point'))
    )
    with op.batch_alter_table('point', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_point_machine'), ['machine'], unique=False)
        batch_op.create_index(batch_op.f('ix_point_no'), ['no'], unique=False)
        batch_op.create_index(batch_op.f('ix_point_parent'), ['parent'], unique=False)

    op.create_table('reading',
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('change_id', Text(), nullable=False),
        sa.Column('machine', Text(), nullable=False),
        sa.Column('date', Text(), nullable=False),
        sa.Column('minutes', sa.BigInteger(), nullable=True),
        sa.Column('because', Text(), nullable=False),
        sa.Column('doubt', Text(), nullable=False),
        sa.Column('at', Text(), nullable=False),
        sa.Column('voided', sa.Boolean(), nullable=False),
        sa.PrimaryKeyConstraint('vessel', 'change_id', name=op.f('pk_reading'))
    )
    with op.batch_alter_table('reading', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_reading_machine'), ['machine'], unique=False)

    op.create_table('requirement',
        sa.Column('id', Text(), nullable=False),
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('gone', sa.Boolean(), nullable=False),
        sa.Column('subject', Text(), nullable=True),
        sa.Column('attribute', Text(), nullable=True),
        sa.Column('claim', sa.JSON(), nullable=True),
        sa.PrimaryKeyConstraint('vessel', 'id', name=op.f('pk_requirement'))
    )
    with op.batch_alter_table('requirement', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_requirement_subject'), ['subject'], unique=False)

    op.create_table('sameness',
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('change_id', Text(), nullable=False),
        sa.Column('keep', Text(), nullable=False),
        sa.Column('drop', Text(), nullable=False),
        sa.Column('at', Text(), nullable=False),
        sa.PrimaryKeyConstraint('vessel', 'change_id', name=op.f('pk_sameness'))
    )
    op.create_table('search',
        sa.Column('id', sa.Integer(), nullable=False),
        sa.Column('part', Text(), nullable=False),
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('body', sa.Text(), nullable=False),
        sa.Column('numbers', sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint('id', name=op.f('pk_search')),
        sa.UniqueConstraint('vessel', 'part', name='uq_search_vessel')
    )
    with op.batch_alter_table('search', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_search_vessel'), ['vessel'], unique=False)

    op.create_table('service',
        sa.Column('id', Text(), nullable=False),
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('gone', sa.Boolean(), nullable=False),
        sa.Column('no', Text(), nullable=True),
        sa.Column('what', Text(), nullable=True),
        sa.Column('machine', Text(), nullable=True),
        sa.Column('point', Text(), nullable=True),
        sa.Column('every_minutes', sa.Integer(), nullable=True),
        sa.Column('every_months', sa.Integer(), nullable=True),
        sa.Column('first_minutes', sa.Integer(), nullable=True),
        sa.Column('weight', Text(), nullable=True),
        sa.Column('cautions', Text(), nullable=True),
        sa.Column('in_port', sa.Boolean(), nullable=True),
        sa.Column('not_wanted', sa.Boolean(), nullable=True),
        sa.Column('steps', sa.Text(), nullable=True),
        sa.Column('note', sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint('vessel', 'id', name=op.f('pk_service'))
    )
    with op.batch_alter_table('service', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_service_machine'), ['machine'], unique=False)
        batch_op.create_index(batch_op.f('ix_service_no'), ['no'], unique=False)

    op.create_table('service_at',
        sa.Column('id', Text(), nullable=False),
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('gone', sa.Boolean(), nullable=False),
        sa.Column('service', Text(), nullable=True),
        sa.Column('point', Text(), nullable=True),
        sa.PrimaryKeyConstraint('vessel', 'id', name=op.f('pk_service_at'))
    )
    with op.batch_alter_table('service_at', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_service_at_service'), ['service'], unique=False)

    op.create_table('service_record',
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('change_id', Text(), nullable=False),
        sa.Column('service', Text(), nullable=False),
        sa.Column('machine', Text(), nullable=False),
        sa.Column('date', Text(), nullable=False),
        sa.Column('minutes', sa.BigInteger(), nullable=True),
        sa.Column('proof', Text(), nullable=False),
        sa.Column('by', Text(), nullable=False),
        sa.Column('note', sa.Text(), nullable=False),
        sa.Column('at', Text(), nullable=False),
        sa.Column('voided', sa.Boolean(), nullable=False),
        sa.PrimaryKeyConstraint('vessel', 'change_id', name=op.f('pk_service_record'))
    )
    with op.batch_alter_table('service_record', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_service_record_service'), ['service'], unique=False)

    op.create_table('setting',
        sa.Column('name', Text(), nullable=False),
        sa.Column('value', sa.JSON(), nullable=True),
        sa.PrimaryKeyConstraint('name', name=op.f('pk_setting'))
    )
    op.create_table('settlement',
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('change_id', Text(), nullable=False),
        sa.Column('of', Text(), nullable=False),
        sa.Column('kind', Text(), nullable=False),
        sa.PrimaryKeyConstraint('vessel', 'change_id', name=op.f('pk_settlement'))
    )
    with op.batch_alter_table('settlement', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_settlement_of'), ['of'], unique=False)

    op.create_table('spec',
        sa.Column('id', Text(), nullable=False),
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('gone', sa.Boolean(), nullable=False),
        sa.Column('part', Text(), nullable=True),
        sa.Column('attribute', Text(), nullable=True),
        sa.Column('claim', sa.JSON(), nullable=True),
        sa.PrimaryKeyConstraint('vessel', 'id', name=op.f('pk_spec'))
    )
    with op.batch_alter_table('spec', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_spec_part'), ['part'], unique=False)

    op.create_table('stand_in',
        sa.Column('id', Text(), nullable=False),
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('gone', sa.Boolean(), nullable=False),
        sa.Column('part', Text(), nullable=True),
        sa.Column('for_part', Text(), nullable=True),
        sa.Column('proof', Text(), nullable=True),
        sa.Column('note', sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint('vessel', 'id', name=op.f('pk_stand_in'))
    )
    with op.batch_alter_table('stand_in', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_stand_in_for_part'), ['for_part'], unique=False)
        batch_op.create_index(batch_op.f('ix_stand_in_part'), ['part'], unique=False)

    op.create_table('trip',
        sa.Column('id', Text(), nullable=False),
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('gone', sa.Boolean(), nullable=False),
        sa.Column('no', Text(), nullable=True),
        sa.Column('name', Text(), nullable=True),
        sa.Column('departs_on', Text(), nullable=True),
        sa.Column('returns_on', Text(), nullable=True),
        sa.Column('hours_before_departure', Text(), nullable=True),
        sa.Column('ready_days', sa.Integer(), nullable=True),
        sa.Column('protection', sa.JSON(), nullable=True),
        sa.Column('limits', sa.JSON(), nullable=True),
        sa.Column('border', Text(), nullable=True),
        sa.Column('note', sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint('vessel', 'id', name=op.f('pk_trip'))
    )
    with op.batch_alter_table('trip', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_trip_no'), ['no'], unique=False)

    op.create_table('trip_accept',
        sa.Column('id', Text(), nullable=False),
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('gone', sa.Boolean(), nullable=False),
        sa.Column('trip', Text(), nullable=True),
        sa.Column('part', Text(), nullable=True),
        sa.Column('by', Text(), nullable=True),
        sa.Column('on', Text(), nullable=True),
        sa.Column('note', sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint('vessel', 'id', name=op.f('pk_trip_accept'))
    )
    with op.batch_alter_table('trip_accept', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_trip_accept_trip'), ['trip'], unique=False)

    op.create_table('trip_hours',
        sa.Column('id', Text(), nullable=False),
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('gone', sa.Boolean(), nullable=False),
        sa.Column('trip', Text(), nullable=True),
        sa.Column('machine', Text(), nullable=True),
        sa.Column('minutes', sa.Integer(), nullable=True),
        sa.PrimaryKeyConstraint('vessel', 'id', name=op.f('pk_trip_hours'))
    )
    with op.batch_alter_table('trip_hours', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_trip_hours_trip'), ['trip'], unique=False)

    op.create_table('vessel',
        sa.Column('id', Text(), nullable=False),
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('gone', sa.Boolean(), nullable=False),
        sa.Column('mark', Text(), nullable=True),
        sa.Column('name', Text(), nullable=True),
        sa.Column('about', sa.Text(), nullable=True),
        sa.Column('base', Text(), nullable=True),
        sa.PrimaryKeyConstraint('vessel', 'id', name=op.f('pk_vessel'))
    )
    with op.batch_alter_table('vessel', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_vessel_mark'), ['mark'], unique=False)

    op.create_table('device',
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('dev', Text(), nullable=False),
        sa.Column('name', Text(), nullable=False),
        sa.Column('role', Text(), nullable=False),
        sa.Column('next_n', sa.BigInteger(), nullable=False),
        sa.Column('inst', Text(), nullable=False),
        sa.Column('token_hash', Text(), nullable=False),
        sa.Column('paired_ms', sa.BigInteger(), nullable=False),
        sa.Column('seen_ms', sa.BigInteger(), nullable=False),
        sa.Column('revoked', Text(), nullable=False),
        sa.ForeignKeyConstraint(['vessel'], ['logbook.vessel'], name=op.f('fk_device_vessel_logbook')),
        sa.PrimaryKeyConstraint('vessel', 'dev', name=op.f('pk_device'))
    )
    op.create_table('field_version',
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('doc', Text(), nullable=False),
        sa.Column('field', Text(), nullable=False),
        sa.Column('change_id', Text(), nullable=False),
        sa.Column('at', Text(), nullable=False),
        sa.Column('is_head', sa.Boolean(), nullable=False),
        sa.Column('base', sa.JSON(), nullable=True),
        sa.Column('value', sa.JSON(), nullable=True),
        sa.ForeignKeyConstraint(['vessel'], ['logbook.vessel'], name=op.f('fk_field_version_vessel_logbook')),
        sa.PrimaryKeyConstraint('vessel', 'doc', 'field', 'change_id', name=op.f('pk_field_version'))
    )
    op.create_table('held',
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('id', Text(), nullable=False),
        sa.Column('dev', Text(), nullable=False),
        sa.Column('n', sa.BigInteger(), nullable=False),
        sa.Column('raw', sa.Text(), nullable=False),
        sa.Column('why', Text(), nullable=False),
        sa.ForeignKeyConstraint(['vessel'], ['logbook.vessel'], name=op.f('fk_held_vessel_logbook')),
        sa.PrimaryKeyConstraint('vessel', 'id', name=op.f('pk_held'))
    )
    op.create_table('log',
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('seq', sa.BigInteger(), nullable=False),
        sa.Column('id', Text(), nullable=False),
        sa.Column('kind', Text(), nullable=False),
        sa.Column('dev', Text(), nullable=False),
        sa.Column('n', sa.BigInteger(), nullable=False),
        sa.Column('at', Text(), nullable=False),
        sa.Column('batch', Text(), nullable=False),
        sa.Column('raw', sa.Text(), nullable=False),
        sa.Column('head', Text(), nullable=False),
        sa.ForeignKeyConstraint(['vessel'], ['logbook.vessel'], name=op.f('fk_log_vessel_logbook')),
        sa.PrimaryKeyConstraint('vessel', 'seq', name=op.f('pk_log')),
        sa.UniqueConstraint('vessel', 'dev', 'n', name='uq_log_dev_n'),
        sa.UniqueConstraint('vessel', 'id', name='uq_log_id')
    )
    with op.batch_alter_table('log', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_log_at'), ['at'], unique=False)
        batch_op.create_index(batch_op.f('ix_log_batch'), ['batch'], unique=False)
        batch_op.create_index(batch_op.f('ix_log_kind'), ['kind'], unique=False)

    op.create_table('refused',
        sa.Column('vessel', Text(), nullable=False),
        sa.Column('id', Text(), nullable=False),
        sa.Column('dev', Text(), nullable=False),
        sa.Column('n', sa.BigInteger(), nullable=False),
        sa.Column('reason', Text(), nullable=False),
        sa.Column('detail', Text(), nullable=False),
        sa.ForeignKeyConstraint(['vessel'], ['logbook.vessel'], name=op.f('fk_refused_vessel_logbook')),
        sa.PrimaryKeyConstraint('vessel', 'id', name=op.f('pk_refused'))
    )


def downgrade() -> None:
    """There is no way back: put the copy back that was made before."""
    raise RuntimeError("a store is not taken back a step; restore a backup")
