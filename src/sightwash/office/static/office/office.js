// On a narrow screen the six questions stand in a row that is pushed sideways: bring the one that is asked into sight.
{
  const asked = document.querySelector('.questions ol [aria-current="page"]');
  if (asked) {
    const row = asked.closest("ol");
    row.scrollLeft = asked.offsetLeft - row.offsetLeft - (row.clientWidth - asked.offsetWidth) / 2;
  }
}
