"""The Chalk wall: ideas, taken up or wiped off."""

import django.db.models.deletion
import fabshop.words.log
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('records', '0009_drawings_and_what_is_measured'),
    ]

    operations = [
        migrations.CreateModel(
            name='Idea',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('text', models.TextField()),
                ('at', models.DateTimeField()),
                ('wiped_at', models.DateTimeField(blank=True, null=True)),
                ('client_id', models.CharField(max_length=64, unique=True)),
            ],
            options={
                'ordering': ['-at', '-id'],
            },
        ),
        migrations.RemoveConstraint(
            model_name='logentry',
            name='entry_kind_known',
        ),
        migrations.AlterField(
            model_name='logentry',
            name='kind',
            field=models.CharField(choices=[('start', 'start'), ('stop', 'stop'), ('done', 'done'), ('part-done', 'part-done'), ('stuck', 'stuck'), ('note', 'note'), ('undo', 'undo'), ('reopened', 'reopened'), ('given-up-task', 'given up'), ('changed', 'changed'), ('taken-off', 'taken off'), ('put-on', 'put on'), ('file-sent', 'file sent'), ('not-sent-after-all', 'not sent after all'), ('promised', 'promised'), ('received', 'received'), ('taken-back', 'taken back'), ('settled', 'settled'), ('hold', 'hold'), ('run-started', 'run started'), ('run-ended', 'run ended'), ('planned', 'planned'), ('plan-accepted', 'plan accepted'), ('step', 'step'), ('broke', 'broke'), ('idea', 'idea'), ('put-on-the-rack', 'put on the rack'), ('cut', 'cut'), ('counted-up', 'counted up'), ('held-for-a-task', 'held for a task'), ('let-go', 'let go'), ('on-the-shelf', 'on the shelf'), ('used', 'used'), ('shelf-counted-up', 'counted on the shelf'), ('overruled', 'overruled'), ('joint', 'joint'), ('prepared', 'prepared'), ('colour-call', 'colour call'), ('drawing', 'drawing'), ('measured', 'measured')], max_length=20),
        ),
        migrations.AddConstraint(
            model_name='logentry',
            constraint=models.CheckConstraint(condition=models.Q(('kind__in', [fabshop.words.log.EntryKind['START'], fabshop.words.log.EntryKind['STOP'], fabshop.words.log.EntryKind['DONE'], fabshop.words.log.EntryKind['PART_DONE'], fabshop.words.log.EntryKind['STUCK'], fabshop.words.log.EntryKind['NOTE'], fabshop.words.log.EntryKind['UNDO'], fabshop.words.log.EntryKind['REOPENED'], fabshop.words.log.EntryKind['GIVEN_UP'], fabshop.words.log.EntryKind['CHANGED'], fabshop.words.log.EntryKind['TAKEN_OFF'], fabshop.words.log.EntryKind['PUT_ON'], fabshop.words.log.EntryKind['SENT'], fabshop.words.log.EntryKind['NOT_SENT'], fabshop.words.log.EntryKind['PROMISED'], fabshop.words.log.EntryKind['RECEIVED'], fabshop.words.log.EntryKind['TAKEN_BACK'], fabshop.words.log.EntryKind['SETTLED'], fabshop.words.log.EntryKind['HOLD'], fabshop.words.log.EntryKind['RUN_STARTED'], fabshop.words.log.EntryKind['RUN_ENDED'], fabshop.words.log.EntryKind['PLANNED'], fabshop.words.log.EntryKind['ACCEPTED'], fabshop.words.log.EntryKind['STEP'], fabshop.words.log.EntryKind['BROKE'], fabshop.words.log.EntryKind['IDEA'], fabshop.words.log.EntryKind['ON_RACK'], fabshop.words.log.EntryKind['CUT'], fabshop.words.log.EntryKind['COUNTED'], fabshop.words.log.EntryKind['HELD'], fabshop.words.log.EntryKind['LET_GO'], fabshop.words.log.EntryKind['SHELF'], fabshop.words.log.EntryKind['USED'], fabshop.words.log.EntryKind['SHELF_COUNT'], fabshop.words.log.EntryKind['OVERRULED'], fabshop.words.log.EntryKind['JOINT'], fabshop.words.log.EntryKind['PREPARED'], fabshop.words.log.EntryKind['COLOUR'], fabshop.words.log.EntryKind['DRAWN'], fabshop.words.log.EntryKind['MEASURED']])), name='entry_kind_known'),
        ),
        migrations.AddField(
            model_name='idea',
            name='build',
            field=models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='ideas', to='records.build'),
        ),
        migrations.AddField(
            model_name='idea',
            name='person',
            field=models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='ideas', to=settings.AUTH_USER_MODEL),
        ),
        migrations.AddField(
            model_name='idea',
            name='task',
            field=models.OneToOneField(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='idea', to='records.task'),
        ),
        migrations.AddConstraint(
            model_name='idea',
            constraint=models.CheckConstraint(condition=models.Q(('text', ''), _negated=True), name='idea_says_something'),
        ),
        migrations.AddConstraint(
            model_name='idea',
            constraint=models.CheckConstraint(condition=models.Q(('task', None), ('wiped_at', None), _connector='OR'), name='idea_is_taken_up_or_wiped_off'),
        ),
    ]
