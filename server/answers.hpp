// The answerers, by the source that holds them. Each takes the request's named parts, asks app/,
// and says it in JSON.
#pragma once

#include "server/answering.hpp"
#include "server/http.hpp"

namespace batten::server {

// answer_pianos.cpp
Response get_catalogue(Answering& with, const Request& request);
Response get_pianos(Answering& with, const Request& request);
Response post_pianos(Answering& with, const Request& request);
Response get_piano(Answering& with, const Request& request);
Response post_visits(Answering& with, const Request& request);

// answer_journal.cpp
Response get_journal(Answering& with, const Request& request);
Response post_entries(Answering& with, const Request& request);

// answer_strip.cpp
Response get_strip(Answering& with, const Request& request);
Response get_read_next(Answering& with, const Request& request);
Response get_line(Answering& with, const Request& request);

// answer_plan.cpp
Response get_plan(Answering& with, const Request& request);
Response get_time(Answering& with, const Request& request);
Response get_why(Answering& with, const Request& request);

// answer_note.cpp
Response get_note(Answering& with, const Request& request);
Response post_what_if(Answering& with, const Request& request);
Response post_strokes(Answering& with, const Request& request);

// answer_brief.cpp
Response get_brief(Answering& with, const Request& request);
Response get_brief_map(Answering& with, const Request& request);
Response post_brief(Answering& with, const Request& request);

// answer_complaint.cpp
Response post_complaint(Answering& with, const Request& request);

// answer_handover.cpp
Response get_handover(Answering& with, const Request& request);

// answer_paper.cpp
Response get_handover_pdf(Answering& with, const Request& request);
Response get_sheet_pdf(Answering& with, const Request& request);
Response post_back(Answering& with, const Request& request);

// answer_drift.cpp
Response get_drift(Answering& with, const Request& request);
Response get_first_checks(Answering& with, const Request& request);

// answer_shop.cpp
Response get_shop(Answering& with, const Request& request);
Response post_shop(Answering& with, const Request& request);
Response get_logo(Answering& with, const Request& request);
Response put_logo(Answering& with, const Request& request);
Response delete_logo(Answering& with, const Request& request);

// answer_bundle.cpp
Response get_bundle(Answering& with, const Request& request);
Response post_bundle(Answering& with, const Request& request);
Response get_backups(Answering& with, const Request& request);
Response post_backups(Answering& with, const Request& request);

// answer_visits.cpp
Response get_visits(Answering& with, const Request& request);
Response get_visits_compared(Answering& with, const Request& request);

// answer_templates.cpp
Response get_templates(Answering& with, const Request& request);
Response get_template_pdf(Answering& with, const Request& request);
Response get_template_svg(Answering& with, const Request& request);
Response get_template_dxf(Answering& with, const Request& request);

// answer_studio.cpp
Response get_studio(Answering& with, const Request& request);
Response get_all_due(Answering& with, const Request& request);
Response get_due(Answering& with, const Request& request);

}  // namespace batten::server
