import { useMutation, useQuery } from '@tanstack/react-query'
import { type ReactNode, useState } from 'react'
import type { CountScope } from '../../core/stock/count-contract.ts'
import { counted, dayAndMonth } from '../../core/units/date-words.ts'
import { placeIdSchema } from '../../core/units/ids.ts'
import { Button } from '../design/Button.tsx'
import { ChoiceField, InlineChoices } from '../design/ChoiceField.tsx'
import { DataTable } from '../design/DataTable.tsx'
import { TextField } from '../design/Field.tsx'
import { useOffice } from '../design/office-manner.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { Sheet, SheetPart, Sheets } from '../design/Sheet.tsx'
import { useDraft } from '../design/use-draft.ts'
import { ask, problemOf } from '../shell/office-door.ts'
import { useAddressWord } from '../shell/open-record.ts'
import { WhoField } from '../shell/WhoField.tsx'
import { CountRoundSheet } from './CountRoundSheet.tsx'
import { ROUND_COLUMNS, WEEK_COLUMNS } from './count-columns.tsx'

/** Counting: what to count this week and why, and the rounds. A round that is opened takes the sheet. */
export function CountsLedger({ viewChoice }: { readonly viewChoice: ReactNode }) {
  const [round, setRound] = useAddressWord('round')
  const countId = Number(round)
  if (round !== null && Number.isSafeInteger(countId) && countId > 0)
    return <CountRoundSheet key={countId} countId={countId} onClose={() => setRound(null)} />
  return <CountsOverview viewChoice={viewChoice} onRound={(id) => setRound(String(id))} />
}

interface OverviewProps {
  readonly viewChoice: ReactNode
  readonly onRound: (countId: number) => void
}

function CountsOverview({ viewChoice, onRound }: OverviewProps) {
  const week = useQuery(ask.counts.week.queryOptions())
  const rounds = useQuery(ask.counts.rounds.queryOptions())
  const [isAsking, setAsking] = useState(false)
  const heaps = week.data?.heaps ?? null
  return (
    <Sheets>
      <Sheet
        title={`Count this week: ${counted(heaps?.length ?? 0, 'lot')}`}
        aside={week.data && week.data.waiting > 0 ? `${week.data.waiting} more wait for next week` : undefined}
        choices={<InlineChoices>{viewChoice}</InlineChoices>}
        actions={
          <Button kind="primary" onPress={() => setAsking(!isAsking)}>
            Begin a round
          </Button>
        }
      >
        {isAsking && <BeginRound dueNow={heaps?.length ?? 0} onBegun={onRound} />}
        <DataTable
          name="count-week"
          label="What to count this week"
          columns={WEEK_COLUMNS}
          rows={heaps}
          rowKey={(heap) => `${heap.placeId}/${heap.lotId}`}
          rowName={(heap) => `${heap.part}, lot ${heap.lot} in ${heap.place}`}
          density="two-line"
          rowsInSight={8}
          problem={week.error ? problemOf(week.error) : null}
          onTryAgain={() => void week.refetch()}
          empty={{
            why: 'Nothing is due to be counted this week.',
            todo: 'Count an aisle all the same, or change in Settings how often parts are counted.',
          }}
        />
        <SheetPart title="Rounds" aside="open ones first; Enter goes on with one">
          <DataTable
            name="counts"
            label="Rounds of counting"
            columns={ROUND_COLUMNS}
            rows={rounds.data ?? null}
            rowKey={(round) => String(round.countId)}
            rowName={(round) => round.name}
            density="glove"
            rowsInSight={5}
            quiet={(round) => round.state !== 'open'}
            problem={rounds.error ? problemOf(rounds.error) : null}
            onTryAgain={() => void rounds.refetch()}
            onOpen={(round) => onRound(round.countId)}
            empty={{ why: 'Nothing was counted in rounds yet.', todo: 'Begin a round with what is due this week.' }}
          />
        </SheetPart>
      </Sheet>
    </Sheets>
  )
}

interface Draft {
  readonly name: string
  readonly of: string
}

function BeginRound({ dueNow, onBegun }: { readonly dueNow: number; readonly onBegun: (countId: number) => void }) {
  const { today, locale } = useOffice()
  const { draft, setDraft, discard } = useDraft<Draft>('count-new', {
    name: `Count of ${dayAndMonth(today, locale)}`,
    of: dueNow > 0 ? 'week' : 'all',
  })
  const places = useQuery(ask.stock.places.queryOptions())
  const begin = useMutation({
    ...ask.counts.begin.mutationOptions(),
    onSuccess: ({ countId }) => {
      discard()
      onBegun(countId)
    },
  })
  const used = (places.data?.places ?? []).filter((place) => place.closedOn === null && place.kind !== 'transit')
  const aisles = [...new Set(used.map((place) => place.aisle).filter((aisle) => aisle !== ''))].sort()
  const choices = [
    { id: 'week', words: `what is due this week (${dueNow})` },
    ...aisles.map((aisle) => ({ id: `aisle ${aisle}`, words: `aisle ${aisle}` })),
    ...used.map((place) => ({ id: `place ${place.placeId}`, words: place.name })),
    { id: 'all', words: 'everything' },
  ]
  return (
    <form
      className="stock-form"
      onSubmit={(event) => {
        event.preventDefault()
        begin.mutate({ name: draft.name, scope: scopeOf(draft.of) })
      }}
    >
      <div className="stock-form-row">
        <ChoiceField
          label="What to count"
          choices={choices}
          value={draft.of}
          onChange={(of) => setDraft({ ...draft, of })}
          chars={24}
        />
        <TextField label="Called" value={draft.name} onChange={(name) => setDraft({ ...draft, name })} chars={22} />
        <WhoField label="Begun by" />
      </div>
      {begin.error !== null && <ProblemNote problem={problemOf(begin.error)} kept="What you typed is still here." />}
      <div className="stock-form-row">
        <Button kind="primary" type="submit" isDisabled={draft.name.trim() === ''}>
          Begin {draft.name}
        </Button>
      </div>
    </form>
  )
}

function scopeOf(of: string): CountScope {
  const [kind = '', ...rest] = of.split(' ')
  if (kind === 'aisle') return { of: 'aisle', aisle: rest.join(' ') }
  if (kind === 'place') return { of: 'place', placeId: placeIdSchema.parse(Number(rest[0])) }
  return { of: kind === 'week' ? 'week' : 'all' }
}
