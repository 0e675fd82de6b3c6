// Which key of a keypad or button does what on a walk, chosen by pressing it.

import { useLayoutEffect, useState } from 'preact/hooks'
import { count, listed, t } from '../messages/messages'
import { announce } from '../ui/announce'
import { actionOf, type KeyAction, keyActions, type KeyMap, keyMap, keyOfEvent, keysOf, setKeys, withKey, withoutKey } from '../ui/key_map'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { failureText } from '../ui/words'

/** They are held while another key is pressed; and by Tab one gets to the button beside. */
const noKeys: readonly string[] = ['Tab', 'Shift', 'Control', 'Alt', 'AltGraph', 'Meta', 'CapsLock', 'Dead']

export function KeySettings() {
  const notebook = useNotebook()
  const [choosing, setChoosing] = useState<KeyAction>()
  const [said, setSaid] = useState('')
  const say = (text: string) => {
    setSaid(text)
    announce(text)
  }
  const keep = (map: KeyMap, text: string) => {
    setKeys(notebook, map).then(() => say(text), (reason: unknown) => say(failureText(reason)))
  }
  const take = (action: KeyAction, key: string) => {
    if (key === '') return say(t('keys.unnamed'))
    const before = actionOf(keyMap.peek(), key)
    const [name, does] = [keyName(key), actionName(action)]
    const told = before === undefined || before === action
      ? t('keys.chosen', { key: name, action: does })
      : t('keys.chosen.instead', { key: name, action: does, before: actionName(before) })
    keep(withKey(keyMap.peek(), action, key), told)
    setChoosing(undefined)
  }
  return (
    <>
      <PageHead title={t('keys.title')} back={href('shed', 'settings')} />
      <div class="page reading key-settings">
        <p>{t('keys.what')}</p>
        <p class="note">{t('keys.passed_on')}</p>
        <p class="small">{t('keys.focus')}</p>
        {said !== '' && <p class="note">{said}</p>}
        <ul class="rows" aria-label={t('keys.list')}>
          {keyActions.map((action) => (
            <li key={action}>
              {choosing === action
                ? <PressNow action={action} onPress={(key) => take(action, key)} onCancel={() => setChoosing(undefined)} />
                : (
                  <KeyRow
                    action={action} onChoose={() => { setSaid(''); setChoosing(action) }}
                    onClear={() => keep(withoutKey(keyMap.peek(), action), t('keys.cleared', { action: actionName(action) }))}
                  />
                )}
            </li>
          ))}
        </ul>
        {Object.keys(keyMap.value).length > 0
          ? <button type="button" class="btn tall" onClick={() => keep({}, t('keys.reset.done'))}>{t('keys.reset')}</button>
          : <p class="small">{t('keys.usual')}</p>}
      </div>
    </>
  )
}

interface KeyRowProps {
  readonly action: KeyAction
  readonly onChoose: () => void
  readonly onClear: () => void
}

function KeyRow({ action, onChoose, onClear }: KeyRowProps) {
  const keys = keysOf(keyMap.value, action).map(keyName)
  return (
    <div class="key-row">
      <p>{actionName(action)}<b class="block">{keys.length > 0 ? listed(keys) : t('keys.none')}</b></p>
      {keyMap.value[action] !== undefined && (
        <button type="button" class="btn" aria-label={t('keys.clear', { action: actionName(action) })} onClick={onClear}>{t('keys.clear.short')}</button>
      )}
      <button type="button" class="btn" aria-label={t('keys.choose', { action: actionName(action) })} onClick={onChoose}>{t('keys.choose.short')}</button>
    </div>
  )
}

interface PressNowProps {
  readonly action: KeyAction
  readonly onPress: (key: string) => void
  readonly onCancel: () => void
}

/** Waits for a key and takes it before anything else does. Escape goes back, as the button does. */
function PressNow({ action, onPress, onCancel }: PressNowProps) {
  // Before it is seen: a key that is quicker than an effect would be lost.
  useLayoutEffect(() => {
    const listen = (event: KeyboardEvent) => {
      const key = keyOfEvent(event)
      if (noKeys.includes(key) || event.repeat) return
      event.preventDefault()
      event.stopPropagation()
      if (key === 'Escape') onCancel()
      else onPress(key)
    }
    addEventListener('keydown', listen, { capture: true })
    return () => removeEventListener('keydown', listen, { capture: true })
  })
  return (
    <div class="key-row" role="status">
      <p><b>{t('keys.press', { action: actionName(action) })}</b><span class="small block">{t('keys.press.how')}</span></p>
      <button type="button" class="btn" onClick={onCancel}>{t('cancel')}</button>
    </div>
  )
}

function actionName(action: KeyAction): string {
  if (/^[1-9]$/.test(action)) return t('key.do.digit', { n: Number(action) })
  return t(`key.do.${action as Exclude<KeyAction, '1' | '2' | '3' | '4' | '5' | '6' | '7' | '8' | '9'>}`)
}

function keyName(key: string): string {
  if (key === ' ') return t('key.name.space')
  if (/^[0-9]$/.test(key)) return count(Number(key))
  return key.startsWith('at ') ? t('key.name.at', { code: key.slice(3) }) : key
}
