// How the farm sells: its currency, what stands on papers, how long stems keep, and the tax.

import { useState } from 'preact/hooks'
import { changing } from '../crop/deed'
import { termsFacts } from '../crop/sale_facts'
import { type SaleTerms, usualCoolerDays } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { go, href } from '../ui/route'
import { failureText } from '../ui/words'
import { doDeed } from './deeds'
import { readTermsForm, type TermsForm, termsForm, type TermsProblem } from './forms'
import { NumberStepper } from './NumberStepper'

export function TermsPage() {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const [start] = useState<SaleTerms>(farm.sales.terms)
  const [form, setForm] = useState(() => termsForm(start))
  const [problems, setProblems] = useState<readonly TermsProblem[]>([])
  const [failure, setFailure] = useState('')
  const tell = (part: Partial<TermsForm>) => {
    setForm((all) => ({ ...all, ...part }))
    setProblems([])
  }
  const save = async (event: Event) => {
    event.preventDefault()
    const read = readTermsForm(form, isCurrency)
    if ('problems' in read) return setProblems(read.problems)
    const id = { id: farm.id as Exclude<typeof farm.id, ''> }
    try {
      await doDeed(notebook, changing(termsFacts(id, start), termsFacts(id, read.terms)), t('orders.terms.saved'))
      go('shed', 'orders')
    } catch (reason) {
      setFailure(failureText(reason))
    }
  }
  return (
    <>
      <PageHead title={t('orders.terms.title')} back={href('shed', 'orders')} />
      <form class="page orders" noValidate onSubmit={(event) => void save(event)}>
        <div class="columns">
          <div>
            <label class="field">
              <span>{t('orders.terms.currency')}</span>
              <input autocomplete="off" autocapitalize="characters" maxLength={3} value={form.currency} onInput={(event) => tell({ currency: event.currentTarget.value })} />
            </label>
            <label class="field">
              <span>{t('orders.terms.seller')}</span>
              <textarea maxLength={600} value={form.seller} onInput={(event) => tell({ seller: event.currentTarget.value })} />
            </label>
            <NumberStepper label={t('orders.terms.pay_days')} value={form.payDays} least={0} most={365} empty={t('orders.terms.pay_days.none')} onChange={(payDays) => tell({ payDays })} />
            <div class="two-fields">
              <label class="field">
                <span>{t('orders.terms.tax_name')}</span>
                <input autocomplete="off" maxLength={40} value={form.taxName} onInput={(event) => tell({ taxName: event.currentTarget.value })} />
              </label>
              <label class="field">
                <span>{t('orders.terms.tax_rate')}</span>
                <input inputMode="decimal" autocomplete="off" maxLength={6} value={form.taxRate} onInput={(event) => tell({ taxRate: event.currentTarget.value })} />
              </label>
            </div>
          </div>
          <div>
            <NumberStepper label={t('orders.terms.cooler_days')} value={form.coolerDays} least={0} most={60} empty={String(usualCoolerDays)} onChange={(coolerDays) => tell({ coolerDays })} />
            <p class="small">{t('orders.terms.cooler_days.why', { n: usualCoolerDays })}</p>
            <NumberStepper label={t('orders.terms.over_cut')} value={form.overCut} least={0} most={100} empty="0" onChange={(overCut) => tell({ overCut })} />
            <p class="small">{t('orders.terms.over_cut.why')}</p>
          </div>
        </div>
        <div class="sale-do">
          {problems.map((one) => <p key={one} class="note stop" role="alert">{t(`orders.terms.problem.${one}`)}</p>)}
          {failure !== '' && <p class="note stop" role="alert">{failure}</p>}
          <button type="submit" class="btn main">{t('orders.save')}</button>
        </div>
      </form>
    </>
  )
}

/** As far as the device knows currencies; one that knows none takes any three letters. */
function isCurrency(code: string): boolean {
  return typeof Intl.supportedValuesOf !== 'function' || Intl.supportedValuesOf('currency').includes(code)
}
