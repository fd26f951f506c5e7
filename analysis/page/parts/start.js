// Everything once, in the order of the page.
document.querySelectorAll('[data-choose]').forEach((one) => one.addEventListener('click', () => choose(one.dataset.choose)));
drawWeight();
setUpArm();
choose(chosen);
drawArm();
setUpSwing();
drawSwing();
drawDates();
document.documentElement.dataset.ready = 'yes';
