import { useMutation } from '@tanstack/react-query'
import { DEFAULT_SETTINGS, type OfficeSettings } from '../../core/settings/office-settings.ts'
import { boundsText } from '../../core/settings/setting-bounds.ts'
import { settingText } from '../../core/settings/setting-text.ts'
import type { SettingWords } from '../../core/settings/setting-words.ts'
import { MOVES_DUE_DATES } from '../../core/settings/what-settings-move.ts'
import { Button } from '../design/Button.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { ask, problemOf } from '../shell/office-door.ts'
import { SettingField, type TypedSetting } from './SettingField.tsx'

/** One setting: its field, what it does, the usual value, and the way back to it. */
export function SettingRow({ words, values }: { readonly words: SettingWords; readonly values: OfficeSettings }) {
  const say = useSay()
  const { name, label } = words
  const saved = values[name]
  const usual = DEFAULT_SETTINGS[name]
  const { draft, setDraft, discard, isChanged } = useDraft<TypedSetting>(`setting-${name}`, saved)
  const change = useMutation(ask.settings.change.mutationOptions())
  const failure = change.error ? problemOf(change.error) : null
  const put = (to: TypedSetting): void =>
    change.mutate(
      { name, from: saved, to },
      {
        onSuccess: () => {
          discard()
          const now = to ?? usual
          say({
            said: `${label}: now ${settingText(name, now, values)}.${MOVES_DUE_DATES.has(name) ? ' Due dates follow.' : ''}`,
            undo: () => change.mutateAsync({ name, from: now, to: saved }),
            undone: `${label} is as it was.`,
          })
        },
      },
    )
  return (
    <li className="setting-row">
      <div>
        <SettingField words={words} value={draft} office={values} onChange={setDraft} />
        {isChanged && (
          <div className="setting-actions">
            <Button kind="primary" isDisabled={draft === null || change.isPending} onPress={() => put(draft)}>
              Save
            </Button>
            <Button
              kind="quiet"
              onPress={() => {
                discard()
                change.reset()
              }}
            >
              Leave it as it was
            </Button>
          </div>
        )}
      </div>
      <div className="setting-words">
        <p>{words.does}</p>
        <p className="second small">
          {[saved === usual ? 'As usual' : `Usual: ${settingText(name, usual, values)}`, boundsText(name, values)]
            .filter((part) => part !== '')
            .join(' · ')}
        </p>
        {saved !== usual && !isChanged && (
          <Button
            kind="quiet"
            isDisabled={change.isPending}
            onPress={() => put(null)}
            aria-label={`Put ${label} back to the usual value`}
          >
            Back to the usual value
          </Button>
        )}
        {failure && (
          <ProblemNote problem={failure} id={failure.id} kept="Nothing was changed; what you typed is still here." />
        )}
      </div>
    </li>
  )
}
