import { takeOffers } from "/-desk/look/bring.js";

takeOffers(document.getElementById("bring"));
