"""Runs of machines, which are over when somebody says what they came to."""

import django.db.models.deletion
import fabshop.words.overnight
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('records', '0007_consumables_and_trays'),
    ]

    operations = [
        migrations.CreateModel(
            name='Run',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('minutes', models.PositiveIntegerField(help_text='What it takes on the clock.')),
                ('begun_at', models.DateTimeField()),
                ('due_at', models.DateTimeField()),
                ('reason', models.CharField(blank=True, help_text='Why it was left on a day on which nothing may run.', max_length=200)),
                ('verdict', models.CharField(blank=True, choices=[('came-out', 'came out'), ('failed', 'failed')], default='', max_length=10)),
                ('ended_at', models.DateTimeField(blank=True, null=True)),
                ('cause', models.CharField(blank=True, max_length=200)),
                ('is_taken_back', models.BooleanField(default=False, help_text='Undone within its ten minutes: it never began.')),
                ('machine', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='runs', to='records.machine')),
                ('person', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('task', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='runs', to='records.task')),
            ],
            options={
                'ordering': ['-begun_at', '-id'],
                'indexes': [models.Index(condition=models.Q(('verdict', '')), fields=['begun_at'], name='run_unsaid')],
                'constraints': [models.CheckConstraint(condition=models.Q(('verdict', ''), ('verdict__in', [fabshop.words.overnight.RunVerdict['CAME_OUT'], fabshop.words.overnight.RunVerdict['FAILED']]), _connector='OR'), name='run_verdict_known'), models.CheckConstraint(condition=models.Q(models.Q(('ended_at', None), ('verdict', '')), models.Q(models.Q(('verdict', ''), _negated=True), ('ended_at__isnull', False)), _connector='OR'), name='run_ended_says_how'), models.CheckConstraint(condition=models.Q(('ended_at', None), ('ended_at__gte', models.F('begun_at')), _connector='OR'), name='run_ends_after_it_begins', violation_error_message='A run cannot end before it began.'), models.CheckConstraint(condition=models.Q(('due_at__gte', models.F('begun_at'))), name='run_due_after_it_begins'), models.CheckConstraint(condition=models.Q(models.Q(('verdict', 'failed'), _negated=True), models.Q(('cause', ''), _negated=True), _connector='OR'), name='run_failed_has_a_cause')],
            },
        ),
    ]
