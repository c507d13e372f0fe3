import { useMutation } from '@tanstack/react-query'
import { useRef, useState } from 'react'
import type { ScanSaid, ScanTicks, VanPullRow } from '../../core/stock/pull-contract.ts'
import type { PlaceId } from '../../core/units/ids.ts'
import { office, problemOf } from '../shell/office-door.ts'
import type { SaidOfScan } from './ScanBar.tsx'
import { sound } from './scan-sounds.ts'
import { useKeptChoice } from './use-kept-choice.ts'

const LOUD = ['on', 'off'] as const
const TICKS = ['piece', 'line'] as const

/** The scans of a van's list: one after the other, each answered in words and with a sound. */
export function useScans(van: VanPullRow, onHeard: (said: ScanSaid) => void) {
  const [ticks, chooseTicks] = useKeptChoice<ScanTicks>('ticks', TICKS, 'piece')
  const [loud, chooseLoud] = useKeptChoice('sound', LOUD, 'on')
  const [heard, setHeard] = useState<{ said: SaidOfScan; whole: ScanSaid | null; turn: number } | null>(null)
  const hand = useRef<PlaceId | null>(null)
  const [handAt, setHandAt] = useState<PlaceId | null>(null)
  const hear = (said: SaidOfScan, whole: ScanSaid | null = null): void => {
    if (loud === 'on') sound(said.kind === 'no' ? 'no' : 'yes')
    setHeard((before) => ({ said, whole, turn: (before?.turn ?? 0) + 1 }))
  }
  const sending = useMutation({
    // In the order in which they were scanned.
    scope: { id: 'pull-scans' },
    mutationFn: (typed: string) => {
      if (van.pullId === null) throw new Error('Nothing is being pulled')
      return office.pull.scan({ pullId: van.pullId, typed, hand: hand.current, ticks })
    },
    onSuccess: (said) => {
      hand.current = said.placeId
      setHandAt(said.placeId)
      hear(said, said)
      onHeard(said)
    },
    onError: (error, typed) => {
      const { sentence, nextStep } = problemOf(error)
      hear({ kind: 'no', sentence: `${typed} may not have counted. ${sentence}`, nextStep })
    },
  })
  const onScan = (typed: string): void => {
    if (van.pullId !== null) sending.mutate(typed)
    else
      hear({
        kind: 'no',
        sentence: `Nothing is being pulled for ${van.van} yet.`,
        nextStep: 'Begin pulling, then scan.',
      })
  }
  return {
    onScan,
    handAt,
    said: heard?.said ?? null,
    whole: heard?.whole ?? null,
    turn: heard?.turn ?? 0,
    ticks,
    onTicks: chooseTicks,
    isLoud: loud === 'on',
    onLoud: (isLoud: boolean) => chooseLoud(isLoud ? 'on' : 'off'),
    /** Says what was not done by a scan, with the sound of a no. */
    sayNo: (sentence: string, nextStep: string) => hear({ kind: 'no', sentence, nextStep }),
  }
}
