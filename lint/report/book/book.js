(function () {
  "use strict";
  var all = function (q) { return Array.prototype.slice.call(document.querySelectorAll(q)); };
  all("[data-script]").forEach(function (e) { e.hidden = false; });
  var unfold = document.getElementById("unfold");
  if (unfold) unfold.addEventListener("click", function () {
    var open = unfold.getAttribute("aria-pressed") !== "true";
    all("details.check").forEach(function (d) { d.open = open; });
    unfold.setAttribute("aria-pressed", String(open));
  });
  var find = document.getElementById("find");
  if (find) find.addEventListener("input", function () {
    var word = find.value.toLowerCase();
    all("article.entry").forEach(function (e) { e.hidden = e.textContent.toLowerCase().indexOf(word) < 0; });
  });
})();
