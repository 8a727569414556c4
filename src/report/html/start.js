// Brings the parts to life, in the order of the page.

function showChart() {
  $('of-weight').hidden = answer.parts.every((part) => bytesOf(part.name) === null);
  draw($('chart'), selection, standingOf, openModule);
  const shown = STANDINGS.filter(([standing]) => answer.parts.some((part) => standingOf(part.name) === standing) && standing !== 'none');
  $('legend').replaceChildren(...shown.map(([standing, meaning]) => el('li', null, badge(standing), ` ${meaning}`)),
    el('li', null, el('span', { class: 'badge lib' }, el('i', { 'aria-hidden': 'true' }), 'two shades'),
      ' classes, and beside them what lies in lib'));
}

$('main').hidden = false;
startRemarks();
startSwitches();
startPurposes();
startModules();
startImages();
listeners.push(showChart);
for (const listener of listeners) listener();
let width = innerWidth;
addEventListener('resize', () => {
  // Phones report a new height whenever their bars come and go.
  if (innerWidth !== width) {
    width = innerWidth;
    showChart();
  }
});
