"""Spares and the places they fit; a breakage is a line of the log."""

import django.db.models.deletion
import fabshop.words.log
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('records', '0003_the_rack'),
    ]

    operations = [
        migrations.CreateModel(
            name='Spare',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('code', models.SlugField(max_length=40, unique=True)),
                ('title', models.CharField(max_length=160)),
                ('quantity', models.PositiveSmallIntegerField(default=1)),
                ('place', models.CharField(blank=True, help_text='The case or shelf it lies in.', max_length=60)),
                ('test_minutes', models.PositiveSmallIntegerField(default=0, help_text='What it wants first, where nobody knows that it works.')),
                ('note', models.CharField(blank=True, max_length=200)),
                ('retired_at', models.DateTimeField(blank=True, null=True)),
            ],
            options={
                'ordering': ['code'],
            },
        ),
        migrations.CreateModel(
            name='SpareFit',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
            ],
            options={
                'ordering': ['spare_id', 'component_id'],
            },
        ),
        migrations.RemoveConstraint(
            model_name='logentry',
            name='entry_kind_known',
        ),
        migrations.AlterField(
            model_name='cutwish',
            name='grain',
            field=models.CharField(blank=True, choices=[('', ''), ('length', 'along its length'), ('width', 'across it')], default='', max_length=8),
        ),
        migrations.AlterField(
            model_name='logentry',
            name='kind',
            field=models.CharField(choices=[('start', 'start'), ('stop', 'stop'), ('done', 'done'), ('part-done', 'part-done'), ('stuck', 'stuck'), ('note', 'note'), ('undo', 'undo'), ('reopened', 'reopened'), ('given-up-task', 'given up'), ('changed', 'changed'), ('taken-off', 'taken off'), ('put-on', 'put on'), ('file-sent', 'file sent'), ('not-sent-after-all', 'not sent after all'), ('promised', 'promised'), ('received', 'received'), ('taken-back', 'taken back'), ('settled', 'settled'), ('hold', 'hold'), ('run-started', 'run started'), ('run-ended', 'run ended'), ('planned', 'planned'), ('plan-accepted', 'plan accepted'), ('step', 'step'), ('broke', 'broke'), ('put-on-the-rack', 'put on the rack'), ('cut', 'cut'), ('counted-up', 'counted up'), ('held-for-a-task', 'held for a task'), ('let-go', 'let go')], max_length=20),
        ),
        migrations.AlterField(
            model_name='piece',
            name='grain',
            field=models.CharField(blank=True, choices=[('', ''), ('length', 'along its length'), ('width', 'across it')], default='', max_length=8),
        ),
        migrations.AddConstraint(
            model_name='logentry',
            constraint=models.CheckConstraint(condition=models.Q(('kind__in', [fabshop.words.log.EntryKind['START'], fabshop.words.log.EntryKind['STOP'], fabshop.words.log.EntryKind['DONE'], fabshop.words.log.EntryKind['PART_DONE'], fabshop.words.log.EntryKind['STUCK'], fabshop.words.log.EntryKind['NOTE'], fabshop.words.log.EntryKind['UNDO'], fabshop.words.log.EntryKind['REOPENED'], fabshop.words.log.EntryKind['GIVEN_UP'], fabshop.words.log.EntryKind['CHANGED'], fabshop.words.log.EntryKind['TAKEN_OFF'], fabshop.words.log.EntryKind['PUT_ON'], fabshop.words.log.EntryKind['SENT'], fabshop.words.log.EntryKind['NOT_SENT'], fabshop.words.log.EntryKind['PROMISED'], fabshop.words.log.EntryKind['RECEIVED'], fabshop.words.log.EntryKind['TAKEN_BACK'], fabshop.words.log.EntryKind['SETTLED'], fabshop.words.log.EntryKind['HOLD'], fabshop.words.log.EntryKind['RUN_STARTED'], fabshop.words.log.EntryKind['RUN_ENDED'], fabshop.words.log.EntryKind['PLANNED'], fabshop.words.log.EntryKind['ACCEPTED'], fabshop.words.log.EntryKind['STEP'], fabshop.words.log.EntryKind['BROKE'], fabshop.words.log.EntryKind['ON_RACK'], fabshop.words.log.EntryKind['CUT'], fabshop.words.log.EntryKind['COUNTED'], fabshop.words.log.EntryKind['HELD'], fabshop.words.log.EntryKind['LET_GO']])), name='entry_kind_known'),
        ),
        migrations.AddConstraint(
            model_name='spare',
            constraint=models.CheckConstraint(condition=models.Q(('title', ''), _negated=True), name='spare_has_a_title'),
        ),
        migrations.AddField(
            model_name='sparefit',
            name='component',
            field=models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='spares', to='records.component'),
        ),
        migrations.AddField(
            model_name='sparefit',
            name='spare',
            field=models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='fits', to='records.spare'),
        ),
        migrations.AddConstraint(
            model_name='sparefit',
            constraint=models.UniqueConstraint(fields=('spare', 'component'), name='spare_fit_once'),
        ),
    ]
