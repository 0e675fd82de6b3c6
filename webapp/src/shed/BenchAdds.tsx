// What a tap on the bench adds: a bunch, five bunches or a stem; and how large a bunch is.

import { t } from '../messages/messages'
import { bunchSize, setBunchSize } from '../ui/device'
import { useNotebook } from '../ui/notebook'
import { type Adds, bunchSizeFrom } from './bunches'

interface BenchAddsProps {
  readonly adds: Adds
  readonly onChoose: (adds: Adds) => void
}

export function BenchAdds({ adds, onChoose }: BenchAddsProps) {
  const notebook = useNotebook()
  const resize = (text: string) => {
    const size = bunchSizeFrom(text)
    if (size !== undefined) void setBunchSize(notebook, size)
  }
  return (
    <div class="bench-adds">
      <fieldset class="field">
        <legend>{t('bench.adds')}</legend>
        <div class="choices">
          {(['bunch', 'five', 'stem'] as const).map((one) => (
            <button key={one} type="button" class="btn" aria-pressed={adds === one} onClick={() => onChoose(one)}>
              {one === 'stem' ? t('bench.adds.stem') : t(`bench.adds.${one}`)}
            </button>
          ))}
        </div>
      </fieldset>
      <label class="bunch-size">
        <span class="small">{t('bench.bunch')}</span>
        <input
          type="number" inputMode="numeric" min="2" max="100" value={bunchSize.value}
          onInput={(event) => resize(event.currentTarget.value)}
          onBlur={(event) => { event.currentTarget.value = String(bunchSize.peek()) }}
        />
      </label>
    </div>
  )
}
