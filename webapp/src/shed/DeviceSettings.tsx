// What this device alone is set to.

import { languageChoice, t } from '../messages/messages'
import { hand, setHand, setLanguage, setTheme, setTones, theme, tones } from '../ui/device'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { href } from '../ui/route'
import { Choice } from '../ui/Choice'

export function DeviceSettings() {
  const notebook = useNotebook()
  return (
    <section class="card">
      <h2>{t('settings.device')}</h2>
      <Choice
        name={t('settings.language')} value={languageChoice.value} onChoose={(value) => void setLanguage(notebook, value)}
        options={[['auto', t('settings.auto')], ['en', t('settings.language.en')], ['es', t('settings.language.es')]]}
      />
      <Choice
        name={t('settings.theme')} value={theme.value} onChoose={(value) => void setTheme(notebook, value)}
        options={[['auto', t('settings.auto')], ['light', t('settings.theme.light')], ['dark', t('settings.theme.dark')]]}
      />
      <Choice
        name={t('settings.hand')} value={hand.value} onChoose={(value) => void setHand(notebook, value)}
        options={[['left', t('settings.hand.left')], ['right', t('settings.hand.right')]]}
      />
      <label class="switch">
        <input type="checkbox" checked={tones.value} onChange={(event) => void setTones(notebook, event.currentTarget.checked)} />
        <span>{t('settings.tones')}</span>
      </label>
      <a class="btn tall" href={href('shed', 'keys')}><Icon name="numbers" />{t('keys.title')}</a>
    </section>
  )
}
