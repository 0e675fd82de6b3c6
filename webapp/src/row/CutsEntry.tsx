// The way to the cut list from choosing a bed: with how much is still to be cut, where anything is.

import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { CutChoices } from './cut_choices'
import { leftOf, todaysCuts } from './cut_today'

export function CutsEntry() {
  const notebook = useNotebook()
  const choices = CutChoices.of(notebook)
  const left = todaysCuts(notebook).rows.reduce((sum, row) => sum + leftOf(choices, today.value, row), 0)
  return (
    <a class={left > 0 ? 'btn main' : 'btn tall'} href={href('row', 'cuts')}>
      <Icon name="cut_clean" />{left > 0 ? t('cuts.entry', { n: left }) : t('cuts.title')}
    </a>
  )
}
